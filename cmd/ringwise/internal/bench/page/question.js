// Questions: forms whose fields say what is wrong with them, and whose answers
// stand below in plain words.

import { $, el, set, text, sentenceOf } from './dom.js';
import { ask, complain } from './state.js';
import { say, speak } from './voice.js';
import { button as valuesButton } from './values.js';

// field makes a labelled field with room for a hint and for what is wrong with it.
export function field(form, name, label, input, hint = '') {
  const id = `${form}-${name}`;
  const about = [hint && `${id}-hint`, `${id}-error`].filter(Boolean).join(' ');
  set(input, { id, name, 'aria-describedby': about, ...(input.matches('input') ? { autocomplete: 'off' } : {}) });
  return el('div', { class: 'ask' }, el('label', { for: id }, label), input,
    hint ? el('span', { class: 'hint', id: `${id}-hint` }, hint) : '', el('span', { class: 'error', id: `${id}-error` }));
}

export const entry = (attributes = {}) => el('input', { type: 'text', spellcheck: 'false', ...attributes });

export const select = (options, chosen = '') => el('select', {},
  ...options.map(([value, label]) => el('option', { value, selected: value === chosen }, label)));

// valuesOf are the texts of a form's fields.
export const valuesOf = (form, names) => Object.fromEntries(names.map((name) => [name, form.querySelector(`[name=${name}]`).value.trim()]));

// wrong says what is wrong with a field and goes there. It looks in the form,
// then in what the form shares with others.
function wrong(places, name, message) {
  const input = places.flatMap((p) => [...p.querySelectorAll(`[name=${name}]`)])[0];
  const room = input && document.getElementById(input.getAttribute('aria-describedby').split(' ').at(-1));
  if (!room) return false;
  set(input, { 'aria-invalid': 'true' });
  text(room, message);
  const around = input.closest('[hidden]');
  if (around) around.hidden = false;
  input.focus();
  speak(message);
  return true;
}

function right(places) {
  for (const place of places) {
    for (const input of place.querySelectorAll('[aria-invalid]')) set(input, { 'aria-invalid': null });
    for (const room of place.querySelectorAll('.error')) text(room, '');
  }
}

// setUpQuestion sends a form's question and shows the answer below it.
export function setUpQuestion(form, path, body, shared = []) {
  const places = [form, ...shared];
  const box = form.nextElementSibling;
  let asking = false;
  form.noValidate = true;
  form.onsubmit = async (e) => {
    e.preventDefault();
    if (asking) return;
    asking = true;
    right(places);
    set(box, { 'aria-busy': true });
    const patience = setTimeout(() => say('Working it out …'), 700);
    try {
      const told = await ask(path, body());
      complain('');
      showAnswer(box, told);
      say(told.says, hanging(told));
      box.scrollIntoView({ block: 'nearest' });
    } catch (error) {
      clear(box);
      if (!error.field || !wrong(places, error.field, error.message)) text(form.querySelector(':scope > .error'), error.message);
    } finally {
      clearTimeout(patience);
      set(box, { 'aria-busy': null });
      asking = false;
    }
  };
}

export function clear(box) {
  box.replaceChildren();
  box.hidden = true;
}

const signs = { yes: '✓ Yes', 'only if': '◐ Only if', no: '✕ No' };
const sign = (answer) => (answer ? [el('span', { class: `verdict ${answer.replace(' ', '-')}` }, signs[answer]), ' '] : []);
const list = (title, texts) => (texts.length ? [el('p', { class: 'lead' }, title), el('ul', { class: 'points' }, ...texts.map((t) => el('li', {}, t)))] : []);

const cautioned = (cautions) => cautions.map((c) => `Caution: ${c}`);

// hanging is what to hear after the short of an answer: on what it hangs, then
// what can do harm.
function hanging(told) {
  const of = told.answer ? told.groups[0].blocks[0] : { onlyIf: [], because: [] };
  return [
    ...[...told.onlyIf, ...of.onlyIf].map((c) => `Only if ${c}`), ...of.because.map((b) => `Because ${b}`), ...cautioned(told.cautions),
  ].map(sentenceOf).join(' ');
}

// showAnswer shows an answer: the short of it first, cautions last.
export function showAnswer(box, told) {
  const blockOf = (b, level) => el('div', { class: 'block' },
    el(level, {}, ...sign(b.answer), b.title),
    b.rows.length ? el('dl', {}, ...b.rows.map((r) => el('div', {}, el('dt', {}, r.name), el('dd', {}, r.what)))) : '',
    ...list('Only if', b.onlyIf), ...list('Because', b.because), ...takeButton(box, b.takes));
  box.hidden = false;
  box.replaceChildren(
    el('p', { class: 'says' }, told.says),
    ...files(told.files),
    ...takeButton(box, told.takes),
    ...list(told.groups.length ? 'Any of these, only if' : 'Only if', told.onlyIf),
    ...told.groups.flatMap((g) => [
      g.title ? el('h4', {}, g.title) : '', g.note ? el('p', { class: 'hint' }, sentenceOf(g.note)) : '',
      ...g.blocks.map((b) => blockOf(b, g.title ? 'h5' : 'h4')),
    ]),
    ...list('To know', told.notes),
    valuesButton(box),
    told.cautions.length ? el('ul', { class: 'special' }, ...cautioned(told.cautions).map((c) => el('li', {}, c))) : '');
}

// files are links to what was made.
function files(made) {
  if (!made.length) return [];
  return [el('ul', { class: 'files' }, ...made.map((f) => el('li', {},
    el('a', f.open ? { href: f.at, target: '_blank', rel: 'noopener' } : { href: f.at, download: '' }, f.label))))];
}

// takeButton offers to take parts out of the stock, which asks once more.
function takeButton(box, takes) {
  if (!takes?.length) return [];
  const total = takes.reduce((sum, t) => sum + t.count, 0);
  const what = takes.map((t) => `${t.count} of ${t.name}`).join(', ');
  const begin = el('button', { type: 'button' }, `Take ${total === 1 ? 'it' : `these ${total}`} from the stock …`, el('span', { class: 'unseen' }, ` ${what}`));
  const place = el('div', { class: 'take' }, begin);
  begin.onclick = () => {
    const now = el('button', { type: 'button', class: 'main' }, 'Take now');
    const leave = el('button', { type: 'button' }, 'Leave');
    const asked = el('p', { tabindex: -1 }, `Take ${what} out of the stock? Undo puts ${total === 1 ? 'it' : 'them'} back.`);
    place.replaceChildren(asked, el('div', { class: 'row' }, now, leave));
    asked.focus();
    leave.onclick = () => {
      place.replaceChildren(begin);
      begin.focus();
    };
    now.onclick = async () => {
      now.disabled = true;
      try {
        const told = await ask('/find/take', { takes: takes.map(({ entry: number, step, count }) => ({ entry: number, step, count, name: '' })) });
        const done = el('p', { class: 'lead', tabindex: -1 }, `${told.says} Undo puts ${total === 1 ? 'it' : 'them'} back.`);
        place.replaceChildren(done, el('ul', { class: 'special' }, ...cautioned(told.cautions).map((c) => el('li', {}, c))));
        for (const other of box.querySelectorAll('.take')) if (other !== place) other.remove();
        done.focus();
        say(done.textContent, cautioned(told.cautions).map(sentenceOf).join(' '));
      } catch (error) {
        place.replaceChildren(el('p', { class: 'error', tabindex: -1 }, error.message), begin);
        place.firstElementChild.focus();
        speak(error.message);
      }
    };
  };
  return [place];
}
