// What the server knows, as last told, and what this window has in hand.

import { el, $, text, sentenceOf } from './dom.js';

export const state = {
  bench: null, // all that the server told
  bins: [],
  photo: 0, part: 0, // in hand, 0 if none is
  ring: 0, // from 0, in reading order
};

const listeners = [];
export const onChange = (listener) => listeners.push(listener);
export const changed = (why = '') => listeners.forEach((listener) => listener(why));

export const photos = () => (state.bench ? state.bench.photos : []);
export const photo = () => photos().find((p) => p.id === state.photo);
export const part = () => photo()?.parts.find((p) => p.number === state.part);
export const colour = (name) => state.bench.colours.find((c) => c.name === name);
export const reading = (p = part()) => (p && p.taken >= 0 ? p.candidates[p.taken] : null);

// hold takes a part in hand.
export function hold(photoID, number) {
  if (state.photo !== photoID || state.part !== number) state.ring = 0;
  state.photo = photoID;
  state.part = number;
  sessionStorage.setItem('hand', JSON.stringify([photoID, number]));
}

// firstOf is the number of the part of a photo to begin with, 0 if it has none.
export const firstOf = (p) => (p.parts.find((q) => q.status === 'open') || p.parts[0])?.number || 0;

// settle makes sure that what is in hand is there.
function settle() {
  if (!photo()) {
    const first = photos().find((p) => p.parts.some((q) => q.status === 'open')) || photos()[0];
    hold(first?.id || 0, 0);
  }
  if (photo() && !part()) hold(state.photo, firstOf(photo()));
  const rings = part()?.rings.length || 0;
  state.ring = Math.max(0, Math.min(state.ring, rings - 1));
}

// next is the part to go on with: the next open one, here or on another photo.
export function next() {
  const all = photos().flatMap((p) => p.parts.map((q) => ({ photo: p.id, ...q })));
  const at = all.findIndex((q) => q.photo === state.photo && q.number === state.part);
  const order = [...all.slice(at + 1), ...all.slice(0, at)];
  return order.find((q) => q.status === 'open');
}

// learn takes in one photo, unless something newer of it is known.
export function learn(told) {
  const at = photos().findIndex((p) => p.id === told.id);
  if (at < 0) state.bench.photos.push(told);
  else {
    const known = new Map(state.bench.photos[at].parts.map((p) => [p.number, p]));
    told.parts = told.parts.map((p) => (known.get(p.number)?.version > p.version ? known.get(p.number) : p));
    state.bench.photos[at] = told;
  }
  settle();
  changed();
}

// listen keeps the window told of all changes, whoever makes them.
export function listen(heard, invited) {
  const [p, q] = JSON.parse(sessionStorage.getItem('hand') || '[0,0]');
  state.photo = p;
  state.part = q;
  const events = new EventSource('/events');
  const on = (name, act) => events.addEventListener(name, (e) => act(JSON.parse(e.data)));
  events.onopen = () => ($('lost').hidden = true);
  events.onerror = () => ($('lost').hidden = false);
  on('bench', (told) => {
    state.bench = told;
    settle();
    changed('bench');
    fetchBins();
  });
  on('photo', (told) => {
    if (own) return later.push(told);
    const fresh = !photos().some((known) => known.id === told.id);
    learn(told);
    if (fresh) heard(told);
  });
  on('gone', ({ id }) => {
    state.bench.photos = photos().filter((p) => p.id !== id);
    settle();
    changed();
  });
  on('session', (told) => {
    state.bench.session = told;
    changed();
  });
  on('stock', fetchBins);
  on('camera', (told) => { state.bench.camera = told; changed(); });
  on('invitation', invited);
}

let own = 0; // changes of this window that are not answered yet
const later = []; // what was told in the meantime

// whole makes a change and all that follows from its answer one step, so that no
// key meets a page that knows half of it.
export async function whole(act) {
  own += 1;
  try {
    return await act();
  } finally {
    own -= 1;
    if (!own) later.splice(0).forEach(learn);
  }
}

async function fetchBins() {
  const answer = await fetch('/bins');
  if (!answer.ok) return;
  state.bins = await answer.json();
  changed();
}

// ask sends a request and returns the answer. Errors are thrown with a message
// for the person.
export async function ask(path, body, method = 'POST') {
  let answer;
  try {
    answer = await fetch(path, {
      method,
      headers: body instanceof Blob ? {} : { 'Content-Type': 'application/json' },
      body: body instanceof Blob ? body : JSON.stringify(body),
    });
  } catch {
    throw new Error('The bench does not answer. Is ringwise bench still running?');
  }
  const told = await answer.json().catch(() => ({}));
  if (!answer.ok) throw Object.assign(new Error(told.error ? errorOf(path, told.error) : `The bench answered ${answer.status}.`), { status: answer.status, field: told.field });
  return told;
}

// errorOf makes a sentence of an error, unless it starts with a photo's name.
const errorOf = (path, error) => (path.startsWith('/photos?') ? error : sentenceOf(error));

// complain shows an error where all of the page's errors are shown; nothing
// takes it away. Who closes it there goes on where the error came.
export function complain(error) {
  const alert = $('alert');
  const from = document.activeElement;
  alert.hidden = !error;
  text(alert, '');
  if (error) {
    const close = el('button', { type: 'button' }, 'Close');
    close.onclick = () => {
      const inside = alert.contains(document.activeElement);
      complain('');
      if (inside) (from.isConnected ? from : $('hand')).focus();
    };
    alert.replaceChildren(el('span', {}, error), close);
  }
}
