// The keys of the part in hand. Letters and numbers act only while the focus is
// there, but for a few that change nothing; never in a field; and they can be
// switched off (WCAG 2.2, 2.1.4).

import { $, el, inField } from './dom.js';
import { state, part, colour } from './state.js';
import { confirm, undo, redo, step, doings, setColour, take, walk, tell, focusRing } from './hand.js';
import { again } from './voice.js';
import { pointWhite } from './light.js';
import { mark } from './mark.js';
import { open as openValues } from './values.js';

let letters = localStorage.getItem('letters') !== 'no';

// fixed are the keys that always act in the part in hand.
const fixed = {
  Enter: confirm,
  ArrowLeft: () => walk(state.ring - 1),
  ArrowRight: () => walk(state.ring + 1),
  Home: () => walk(0),
  End: () => walk((part()?.rings.length || 1) - 1),
  PageDown: () => step(1),
  PageUp: () => step(-1),
  Delete: () => doings.drop(),
  Backspace: () => doings.drop(),
  Insert: () => doings.add(),
};

// afterKey waits until the key is let go, so that it is not typed into a field.
const afterKey = (act) => addEventListener('keyup', () => act(), { once: true });

// single are the letters, besides those of the colours.
const single = {
  c: () => doings.unset(), i: () => doings.add(), '[': () => doings.left(), ']': () => doings.right(),
  f: () => doings.flip(), a: () => doings.afresh(), m: () => afterKey(() => $('meter').focus()), x: () => doings['not a resistor'](),
  t: () => doings["can't tell"](), l: () => doings.skipped(), h: () => afterKey(doings.hand), j: () => afterKey(doings.use), '.': pointWhite, ',': mark, '=': () => openValues(), z: undo,
};

// anywhere are the letters that act wherever the focus is: they change nothing.
const anywhere = { q: again, b: tell, '?': showKeys };

function showKeys() {
  if (!$('keys-dialog').open) $('keys-dialog').showModal();
}

const told = [
  ['Enter', 'confirm the part and go on'], ['1 to 5', 'take that candidate'], ['← →, Home, End', 'walk the rings'],
  ['Page Up, Page Down', 'previous and next part'], ['F', 'flip: read from the other end'],
  ['I or Insert', 'add a ring behind this one'], ['Delete', 'drop this ring'], ['[ ]', 'move this ring'],
  ['C', "leave this ring's colour to what was seen"], ['A', 'start this part afresh'], ['M', "type the meter's reading"],
  ['X', 'not a resistor'], ['T', "can't tell"], ['L', 'skip, for later'], ['H', 'enter it by hand'], ['J', 'use it: what it is good for'],
  ['.', 'this spot is white: point at one by arrows, Enter keeps it'], [',', 'mark a missed body: point at its two ends'], ['=', 'the values shown, in rings, letters and words'],
  ['Escape', 'close a message; back to the rings from a field'],
  ['Z, or Ctrl+Z anywhere', 'undo'], ['Shift+Z, or Ctrl+Y anywhere', 'redo: do again what was undone'], ['Q, anywhere', 'say again'], ['B, anywhere', 'say how the session goes: counts and pace'], ['?, anywhere', 'these keys'],
];

// Keys take effect one after the other, as quick as they are typed: each waits
// for the answer to the one before. But nothing is confirmed that could not be
// seen yet.
let waiting = 0;
let turn = Promise.resolve();
function inTurn(act) {
  waiting += 1;
  turn = turn.then(act).finally(() => { waiting -= 1; });
}

export function setUp() {
  const box = $('letters');
  box.checked = letters;
  box.onchange = () => {
    letters = box.checked;
    localStorage.setItem('letters', letters ? 'yes' : 'no');
  };
  $('keys').onclick = showKeys;
  $('key-table').append(...told.map(([key, what]) => el('tr', {}, el('th', { scope: 'row' }, key), el('td', {}, what))));
  document.addEventListener('keydown', (e) => {
    if (!(e.ctrlKey || e.metaKey) || e.altKey || inField(e.target)) return;
    const key = e.key.toLowerCase();
    if (key !== 'z' && key !== 'y') return;
    e.preventDefault();
    if (key === 'y' || e.shiftKey) redo();
    else undo();
  });
  document.addEventListener('keydown', (e) => {
    if (e.key !== 'Escape' || e.isComposing || e.defaultPrevented || document.querySelector('dialog[open]')) return;
    if (!$('alert').hidden) $('alert').querySelector('button').click();
    else if ($('hand').contains(e.target) && inField(e.target)) focusRing();
  });
  document.addEventListener('keydown', (e) => {
    if (e.ctrlKey || e.metaKey || e.altKey || e.isComposing || inField(e.target)) return;
    const act = (letters && anywhere[e.key.toLowerCase()]) || ($('hand').contains(e.target) && actInHand(e));
    if (!act) return;
    e.preventDefault();
    if (act === confirm && (e.repeat || waiting)) return;
    inTurn(act);
  });
}

// actInHand is what a key does in the part in hand.
function actInHand(e) {
  const onControl = e.target.closest('button, summary, a, input');
  const act = fixed[e.key];
  if (act && !(onControl && (e.key === 'Enter' || (e.target.matches('input') && e.key.startsWith('Arrow'))))) return act;
  if (!letters) return null;
  const key = e.key.toLowerCase();
  const c = state.bench.colours.find((k) => k.key === key);
  if (c) return () => setColour(c.name);
  if (/^[1-9]$/.test(key)) return () => take(Number(key) - 1);
  return key === 'z' && e.shiftKey ? redo : single[key];
}

// colourRows adds the colours' keys to the list of keys.
export function show() {
  const table = $('key-table');
  if (table.dataset.full) return;
  table.dataset.full = 'yes';
  table.append(...state.bench.colours.map((c) => el('tr', {}, el('th', { scope: 'row' }, c.key.toUpperCase()),
    el('td', {}, `this ring is ${c.name}, ${colour(c.name).letters}`))));
}
