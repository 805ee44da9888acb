// Pointing at spots of the photo: by arrows, by clicks, or by dragging from one
// to the other.

import { $, set } from './dom.js';
import { photo } from './state.js';
import { say } from './voice.js';
import { focusRing } from './hand.js';

let task = null; // what is pointed at
let spots = []; // those kept so far, as fractions of the photo
let at = [0.5, 0.5]; // where the cross is
let pressed = null; // where the mouse or finger went down
let from = null; // what had the focus before pointing

const within = (x) => Math.max(0, Math.min(0.999, x));

function place() {
  const cross = $('cross');
  cross.style.left = `${100 * at[0]}%`;
  cross.style.top = `${100 * at[1]}%`;
  const share = (x) => String(Math.round(1000 * x) / 10);
  set(cross, { 'aria-label': `${task.names[spots.length]} at ${share(at[0])} percent across, ${share(at[1])} percent down. Arrows move it, with Shift in large steps, Enter keeps it, Escape leaves` });
  const [x, y] = spots[0] || at;
  for (const line of $('pointed').children) set(line, { x1: `${100 * x}%`, y1: `${100 * y}%`, x2: `${100 * at[0]}%`, y2: `${100 * at[1]}%` });
}

// point starts pointing at spots of the given names. keep takes the spots and
// says whether they will do.
export function point(asked) {
  if (!photo()) return;
  if (!task) from = document.activeElement;
  task = asked;
  spots = [];
  at = [0.5, 0.5];
  $('pointing').hidden = false;
  place();
  $('cross').focus();
  $('cross').scrollIntoView({ block: 'nearest' });
}

// leave ends pointing.
export function leave() {
  if (!task) return;
  task = null;
  $('pointing').hidden = true;
  if (from?.isConnected && from.checkVisibility() && from !== document.body) from.focus();
  else focusRing();
}

async function keep() {
  spots.push(at);
  if (spots.length < task.names.length) {
    place();
    say(`${task.names[spots.length - 1]} kept. Now the ${task.names[spots.length].toLowerCase()}.`);
    return;
  }
  const all = spots;
  spots = [];
  if (await task.keep(all)) leave();
  else if (task) place();
}

export function setUp() {
  const moves = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  $('cross').addEventListener('keydown', (e) => {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    if (e.key === 'Escape') leave();
    else if (e.key === 'Enter' || e.key === ' ') { if (!e.repeat) keep(); } else if (moves[e.key]) {
      const by = e.shiftKey ? 0.05 : task.step;
      at = at.map((x, i) => within(x + by * moves[e.key][i]));
      place();
      $('cross').scrollIntoView({ block: 'nearest' });
    } else return;
    e.preventDefault();
  });
  const box = $('pointing');
  const placeOf = (e) => {
    const { left, top, width, height } = box.getBoundingClientRect();
    return [(e.clientX - left) / width, (e.clientY - top) / height].map(within);
  };
  box.addEventListener('pointerdown', (e) => {
    if (e.button !== 0) return;
    e.preventDefault(); // the focus stays on the cross
    $('cross').focus();
    box.setPointerCapture(e.pointerId);
    pressed = { x: e.clientX, y: e.clientY, spot: placeOf(e) };
  });
  box.addEventListener('pointermove', (e) => {
    if (!pressed) return;
    if (task.names.length > 1 && !spots.length && Math.hypot(e.clientX - pressed.x, e.clientY - pressed.y) > 10) {
      spots = [pressed.spot]; // dragged from one to the other
      pressed.dragged = true;
    }
    if (!pressed.dragged) return;
    at = placeOf(e);
    place();
  });
  box.addEventListener('pointerup', (e) => {
    if (!pressed) return;
    pressed = null;
    at = placeOf(e);
    place();
    keep();
  });
  box.addEventListener('pointercancel', () => {
    if (pressed?.dragged) spots = [];
    pressed = null;
  });
}
