// Forms for what rings do not tell.

import { $, el, text, sentenceOf } from './dom.js';
import { state, hold, next, changed, ask } from './state.js';
import { say } from './voice.js';

// basisField asks on what a fact stands.
function basisField(name, label) {
  return el('label', {}, `${label} is `, el('select', { name }, el('option', { value: 'said' }, 'known'), el('option', { value: 'estimated' }, 'an estimate')));
}

// factFields are the fields of all facts.
function factFields() {
  const kinds = el('select', { name: 'kind' }, el('option', { value: '' }, 'unknown'), ...state.bench.kinds.map((k) => el('option', { value: k }, k)));
  const sizes = el('input', { name: 'size', autocomplete: 'off', placeholder: state.bench.sizes.join(', ') });
  return [
    el('div', {}, el('label', {}, 'Kind ', kinds), basisField('kindBasis', 'Kind')),
    el('div', {}, el('label', {}, 'Body size, or length × diameter in mm ', sizes), basisField('sizeBasis', 'Size')),
    el('div', {}, el('label', {}, 'Power rating in W ', el('input', { name: 'rating', autocomplete: 'off', placeholder: '0.25 or 1/4' })), basisField('ratingBasis', 'Rating')),
    el('div', {}, el('label', {}, 'How many just like it ', el('input', { name: 'count', type: 'number', min: 1, max: 10000, value: 1 })),
      el('label', {}, 'Remark ', el('input', { name: 'note', maxlength: 2000, autocomplete: 'off' }))),
  ];
}

export function fillFacts(form, facts) {
  const fields = form.querySelector('.fields');
  if (!fields.children.length) fields.append(...factFields());
  for (const [name, value] of Object.entries(facts)) {
    const field = form.elements[name];
    if (field) field.value = name.endsWith('Basis') && value !== 'estimated' ? 'said' : value;
  }
}

export function readFacts(form) {
  const value = (name) => form.elements[name].value.trim();
  return {
    kind: value('kind'), kindBasis: value('kindBasis'), size: value('size'), sizeBasis: value('sizeBasis'),
    rating: value('rating'), ratingBasis: value('ratingBasis'), count: Number(value('count')) || 1, note: value('note'),
  };
}

let entering = null; // the part on a photo that is entered, null for none

// openByHand asks for a value by hand, of a part on a photo or of another.
export function openByHand(part = null) {
  entering = part && part.status !== 'stocked' ? { photo: state.photo, part: part.number, version: part.version } : null;
  const form = $('by-hand-form');
  const fields = form.querySelector('.fields');
  if (!fields.children.length) {
    fields.append(
      el('div', {}, el('label', {}, 'Value, such as 5K6J or 5.6 kΩ ', el('input', { name: 'value', required: true, autocomplete: 'off' })),
        el('label', {}, 'Tolerance in % or letter ', el('input', { name: 'tolerance', autocomplete: 'off', placeholder: '5 or J' }))),
      ...factFields());
  }
  form.reset();
  askDespite(false);
  text($('by-hand-title'), entering ? `Enter part ${part.number} by hand` : 'Enter a part by hand');
  text(form.querySelector('.error'), '');
  $('by-hand').showModal();
  form.elements.value.focus();
}

// askDespite asks whether a value is entered that the meter contradicts.
function askDespite(asked) {
  $('despite').hidden = !asked;
  $('by-hand-form').elements.despite.checked = false;
}

let changing = null; // the entry of the stock whose facts are changed

// openFacts asks what else is known of an entry of the stock.
export function openFacts(entry) {
  changing = entry;
  text($('entry-facts-title'), `What is known of entry #${entry.id}`);
  text($('entry-form').querySelector('.error'), '');
  fillFacts($('entry-form'), entry.form);
  $('entry-facts').showModal();
}

function setUpFacts() {
  const form = $('entry-form');
  form.querySelector('.close').onclick = () => $('entry-facts').close();
  form.onsubmit = async (e) => {
    e.preventDefault();
    try {
      const told = await ask(`/bins/${changing.id}`, { do: 'facts', step: changing.step, facts: readFacts(form) });
      $('entry-facts').close();
      say(sentenceOf(told.what));
    } catch (error) {
      text(form.querySelector('.error'), error.message);
    }
  };
}

export function setUp(afterwards) {
  setUpFacts();
  const form = $('by-hand-form');
  form.querySelector('.close').onclick = () => $('by-hand').close();
  $('hand-entry').onclick = () => openByHand();
  $('bins-entry').onclick = () => openByHand();
  form.oninput = (e) => {
    if (e.target.name !== 'despite') askDespite(false); // that was said of what stood there before
  };
  form.onsubmit = async (e) => {
    e.preventDefault();
    const body = { value: form.elements.value.value, tolerance: form.elements.tolerance.value, despite: form.elements.despite.checked, facts: readFacts(form), ...(entering || { photo: 0, part: 0, version: 0 }) };
    try {
      const told = await ask('/by-hand', body);
      $('by-hand').close();
      const q = entering && next();
      if (q) hold(q.photo, q.number);
      changed();
      say(`${told.what}.`);
      afterwards();
    } catch (error) {
      text(form.querySelector('.error'), error.message);
      askDespite(error.field === 'despite');
    }
  };
}
