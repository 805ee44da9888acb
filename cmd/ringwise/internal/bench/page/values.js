// Every value on the page can be read as a marking, as rings, in letters and in
// words: of an answer, or of all that is shown.

import { $, el, set } from './dom.js';
import { ask, complain, colour } from './state.js';
import { say } from './voice.js';

const most = 20000; // characters that are looked through

// shown is the text of what is shown, the part in hand first.
function shown() {
  const views = [...document.querySelectorAll('.view:not([hidden])')];
  return [$('hand'), ...views].filter((e) => e.checkVisibility()).map((e) => e.innerText).join('\n');
}

// ring is one ring as its paint, letters and name.
function ring(name) {
  const c = colour(name);
  const swatch = el('span', { class: 'swatch', 'aria-hidden': 'true' });
  swatch.style.background = c.paint;
  return el('li', {}, swatch, el('span', { class: 'letters' }, c.letters), ' ', el('span', { class: 'name' }, c.name));
}

// open shows all forms of the values in a part of the page, or of all of it.
export async function open(of = null) {
  let told;
  try {
    told = await ask('/values', { text: (of ? of.innerText : shown()).slice(0, most) });
  } catch (error) {
    complain(error.message);
    return;
  }
  $('values-list').replaceChildren(...told.values.map((v) => el('li', {},
    el('h3', {}, v.text),
    el('dl', {},
      el('div', {}, el('dt', {}, 'Marking'), el('dd', {}, el('b', {}, v.rkm))),
      el('div', {}, el('dt', {}, 'Rings'), el('dd', {}, v.rings.length ? el('ol', { class: 'row-of-rings' }, ...v.rings.map(ring)) : 'No row of rings writes it.')),
      el('div', {}, el('dt', {}, 'In words'), el('dd', {}, v.spoken))))));
  $('values-dialog').showModal();
  $('values-dialog').scrollTop = 0;
  const n = told.values.length;
  say(n === 0 ? 'No value is shown here.' : n === 1 ? '1 value.' : `${n} values.`,
    told.values.slice(0, 3).map((v) => `${v.rkm}: ${[v.rings.join(' '), v.spoken].filter(Boolean).join('; ')}.`).join(' '));
}

// button offers the forms of the values in a part of the page.
export function button(of) {
  const made = el('button', { type: 'button' }, 'These values in rings, letters and words');
  made.onclick = () => open(of);
  return made;
}

export function setUp() {
  set($('values'), { 'aria-haspopup': 'dialog' });
  $('values').onclick = () => open();
}
