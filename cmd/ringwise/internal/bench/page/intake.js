// Photos come in: dropped, pasted, chosen, or taken with the camera.

import { $, el, text, inField } from './dom.js';
import { state, photos, part, next, firstOf, ask, complain } from './state.js';
import { say } from './voice.js';
import { pick } from './hand.js';
import { count } from './sheet.js';

let waiting = [];
let busy = false;

// bringIn sends photos to be read, one after the other. What a person works on
// stays in hand: only where there is nothing to work on is a new part taken.
export async function bringIn(files) {
  waiting.push(...files);
  if (busy) return;
  busy = true;
  const errors = [];
  const came = []; // that were not taken in hand
  let patience = 40;
  while (waiting.length) {
    const file = waiting.shift();
    const name = file.name || 'The photo';
    const before = handOf();
    text($('reading'), `Reading ${file.name || 'the photo'}${waiting.length ? `, ${waiting.length} more to come` : ''} …`);
    try {
      const told = await ask(`/photos?name=${encodeURIComponent(file.name || '')}`, new Blob([file]));
      if (!told.parts) errors.push(`${name}: no parts found`);
      else if (!before.idle || !await pickFirst(told.id, before)) came.push({ name, parts: told.parts });
    } catch (error) {
      if (error.status === 429 && patience > 0) { // many come in at once
        patience -= 1;
        waiting.unshift(file);
        await new Promise((done) => setTimeout(done, 1500));
      } else errors.push(error.message);
    }
  }
  busy = false;
  text($('reading'), '');
  complain(errors.join('\n'));
  say(cameIn(came));
}

// cameIn tells of photos that came in.
function cameIn(came) {
  if (!came.length) return '';
  const what = came.length === 1 ? came[0].name : `${came.length} photos`;
  return `${what} came in: ${count(came.reduce((sum, { parts }) => sum + parts, 0))}.`;
}

// handOf is what is in hand, and whether there is nothing left to do: no part is
// in hand, or it has its answer and no open one is left.
function handOf() {
  const p = part();
  return { photo: state.photo, part: p?.number || 0, idle: !p || !(['open', 'skipped'].includes(p.status) || next()) };
}

// isFree tells whether nobody has begun to work since there was nothing to do.
// Where no part was in hand, one of a new photo lies there by itself.
function isFree(before) {
  const focus = document.activeElement;
  if (document.querySelector('dialog[open]') || inField(focus) || !$('pointing').hidden || !$('measuring').hidden) return false;
  return before.part ? state.photo === before.photo && state.part === before.part : !$('hand').contains(focus);
}

// pickFirst takes the first part of a photo in hand, once the photo is known,
// and tells whether it did.
async function pickFirst(id, before) {
  for (let tries = 50; tries; tries -= 1) {
    const p = photos().find((q) => q.id === id);
    if (p) {
      if (!isFree(before)) return false;
      pick(id, firstOf(p), true);
      return true;
    }
    await new Promise((done) => setTimeout(done, 100));
  }
  return false;
}

// heard tells of a photo that came in, from this window or another.
export function heard(p) {
  if (!busy) say(cameIn([{ name: p.name, parts: p.parts.length }]));
}

// setUp connects the ways in. Parts lists that are dropped or pasted as files
// go to their own form.
export function setUp({ isList, bringList }) {
  const bring = (files) => {
    const list = files.find(isList);
    const photos = files.filter((f) => !isList(f));
    if (list) bringList(list);
    if (photos.length) bringIn(photos);
  };
  const input = $('files');
  $('choose').onclick = () => input.click();
  for (const field of [input, $('snapshot')]) {
    field.onchange = () => {
      bringIn(field.files);
      field.value = '';
    };
  }
  document.addEventListener('paste', (e) => {
    const files = [...e.clipboardData.files];
    if (files.length) bring(files);
  });
  const hasFiles = (e) => e.dataTransfer && [...e.dataTransfer.types].includes('Files');
  document.addEventListener('dragover', (e) => {
    if (!hasFiles(e)) return;
    e.preventDefault();
    $('drop').hidden = false;
  });
  document.addEventListener('dragleave', (e) => {
    if (!e.relatedTarget) $('drop').hidden = true;
  });
  document.addEventListener('drop', (e) => {
    $('drop').hidden = true;
    if (!hasFiles(e)) return;
    e.preventDefault();
    bring([...e.dataTransfer.files]);
  });
  setUpCamera();
}

// setUpCamera offers this device's camera: live where the browser allows it,
// else, as on a phone over the network, by its camera program.
function setUpCamera() {
  let stream = null;
  const stop = () => {
    stream?.getTracks().forEach((track) => track.stop());
    stream = null;
  };
  $('camera').onclick = async () => {
    if (!navigator.mediaDevices) return $('snapshot').click();
    text($('camera-error'), '');
    $('camera-dialog').showModal();
    try {
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment', width: { ideal: 4096 } } });
      $('video').srcObject = stream;
      await $('video').play();
    } catch {
      text($('camera-error'), 'The camera cannot be used: allow it in the browser, or choose a photo instead.');
    }
  };
  $('shoot').onclick = () => {
    const video = $('video');
    if (!stream || !video.videoWidth) return;
    const canvas = el('canvas', { width: video.videoWidth, height: video.videoHeight });
    canvas.getContext('2d').drawImage(video, 0, 0);
    const name = `camera ${new Date().toTimeString().slice(0, 5).replace(':', '.')}.jpg`;
    canvas.toBlob((blob) => bringIn([new File([blob], name)]), 'image/jpeg', 0.95);
    $('camera-dialog').close();
  };
  $('camera-close').onclick = () => $('camera-dialog').close();
  $('camera-dialog').addEventListener('close', stop);
}
