// Photos come in: dropped, pasted, chosen, or taken with the camera.

import { $, el, text } from './dom.js';
import { state, hold, changed, ask, complain } from './state.js';
import { say } from './voice.js';
import { pick } from './hand.js';
import { count } from './sheet.js';

let waiting = [];
let busy = false;

// bringIn sends photos to be read, one after the other.
export async function bringIn(files) {
  waiting.push(...files);
  if (busy) return;
  busy = true;
  const errors = [];
  let first = 0;
  let patience = 40;
  while (waiting.length) {
    const file = waiting.shift();
    text($('reading'), `Reading ${file.name || 'the photo'}${waiting.length ? `, ${waiting.length} more to come` : ''} …`);
    try {
      const told = await ask(`/photos?name=${encodeURIComponent(file.name || '')}`, new Blob([file]));
      if (!first && told.parts) first = told.id;
      if (!told.parts) errors.push(`${file.name || 'The photo'}: no parts found`);
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
  if (first) pickFirst(first);
}

// pickFirst takes the first part of a photo in hand, once the photo is known.
function pickFirst(id, tries = 50) {
  const p = state.bench?.photos.find((q) => q.id === id);
  if (p?.parts.length) pick(id, (p.parts.find((q) => q.status === 'open') || p.parts[0]).number, true);
  else if (tries) setTimeout(() => pickFirst(id, tries - 1), 100);
}

// heard tells of a photo that came in, from this window or another.
export function heard(p) {
  if (busy) return;
  say(`${p.name} came in: ${count(p.parts.length)}.`);
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
