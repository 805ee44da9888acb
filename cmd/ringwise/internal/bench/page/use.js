// What a part is good for: the part in hand, or an entry of the stock.

import { $, el, text, goTo } from './dom.js';
import { state, photo, part, reading } from './state.js';
import { field, entry, select, valuesOf, setUpQuestion, clear } from './question.js';

let chosen = 0; // the entry of the stock, 0 for the part in hand
let shown = '';

const entryOf = (id) => state.bins.flatMap((b) => b.entries.map((e) => ({ bin: b, entry: e }))).find((x) => x.entry.id === id);

// subject is what the questions are about, null if there is nothing.
function subject() {
  const found = chosen && entryOf(chosen);
  if (found) {
    return { title: `entry #${found.entry.id}, ${found.bin.name}`, meter: found.entry.meter, confirmed: true,
      of: { photo: 0, part: 0, version: 0, entry: found.entry.id, step: found.entry.step } };
  }
  const p = part();
  if (chosen || !p) return null;
  const c = reading(p);
  return { title: `part ${p.number} of ${photo().name}, ${c ? `${c.value} ${c.tolerance}` : 'no value yet'}`, meter: p.meter.text, confirmed: p.status === 'stocked',
    of: { photo: state.photo, part: p.number, version: p.version, entry: 0, step: 0 } };
}

// open goes to the questions about an entry, or about the part in hand.
export function open(id = 0) {
  chosen = id;
  show();
  goTo('use', () => $('use-title').focus());
}

const of = () => subject()?.of || { photo: 0, part: 0, version: 0, entry: 0, step: 0 };

export function setUp() {
  $('to-use').onclick = () => { chosen = 0; show(); };
  setUpQuestion($('spread-form'), '/use/spread', () => ({ of: of(), ...valuesOf($('spread-form'), ['low', 'high', 'tempco', 'measured', 'accuracy', 'counts']), inCircuit: $('spread-form').elements.inCircuit.checked }));
  setUpQuestion($('stand-in-form'), '/use/stand-in', () => ({ of: of(), ...valuesOf($('stand-in-form'), needNames) }));
  setUpQuestion($('power-form'), '/use/power', () => ({ of: of(), ...valuesOf($('power-form'), ['at', 'ambient', 'margin', 'rated', 'start', 'zero']) }));
}

// marginField asks how many times the power a rating is to be.
export const marginField = (form) => field(form, 'margin', 'Margin, times', entry({ placeholder: '2' }), 'How many times the power a rating is to be; empty: 2 (common practice)');

export const needNames = ['value', 'tolerance', 'power', 'voltage', 'kind'];

// needFields ask what a place in a circuit needs.
export const needFields = (form) => [
  field(form, 'value', 'Value needed', entry({ placeholder: '5K1' }), 'In any form: 5K1, 5.1 kΩ, 5K1J, GN BN RD GD'),
  field(form, 'tolerance', 'Tolerance that the circuit bears', entry({ placeholder: '5 % or J' }), 'Empty: that of the value; if it has none, an ordinary place, where 10 to 20 % usually serves'),
  field(form, 'power', 'Power rating needed', entry({ placeholder: '1/4 W' }), 'Empty: not known'),
  field(form, 'voltage', 'Most voltage across it', entry({ placeholder: '12 V' }), 'Empty: not known'),
  field(form, 'kind', 'Kind needed', select([['', 'not known'], ...state.bench.kinds.map((k) => [k, k])])),
];

function fill() {
  $('spread-form').querySelector('.asks').append(
    field('spread', 'low', 'Coldest, °C', entry({ placeholder: '-10' }), 'Leave both empty without a drift'),
    field('spread', 'high', 'Hottest, °C', entry({ placeholder: '60' })),
    field('spread', 'tempco', 'Coefficient, ppm/K', entry({ placeholder: '100' }), 'Empty: that of its rings'),
    field('spread', 'measured', 'Meter shows', entry({ placeholder: '5.58k' }), 'Empty: what was noted of the part'),
    field('spread', 'accuracy', 'Accuracy of the meter, %', entry({ placeholder: '1' }), 'Of the reading; empty: 1 %'),
    field('spread', 'counts', 'and counts of its last digit', entry({ placeholder: '3' }), 'Empty: 3'),
    el('label', {}, el('input', { type: 'checkbox', name: 'inCircuit' }), 'It is still in its circuit'));
  $('stand-in-form').querySelector('.asks').append(...needFields('stand-in'));
  $('power-form').querySelector('.asks').append(
    field('power', 'at', 'Voltage across it, current through it, or power in it', entry({ placeholder: '12 V, 20 mA or 0.1 W' }), 'With its unit'),
    field('power', 'ambient', 'Round the part, °C', entry({ placeholder: '25' }), 'Inside the case; empty: 25'),
    marginField('power'),
    field('power', 'rated', 'Its power rating', entry({ placeholder: '1/4 W' }), 'Empty: what is known of the part'),
    field('power', 'start', 'Bears all of it up to, °C', entry({ placeholder: '70' }), 'Empty: usual for its kind'),
    field('power', 'zero', 'and nothing from, °C', entry({ placeholder: '155' }), 'Empty: usual for its kind'));
}

export function show() {
  if (!$('spread-form').querySelector('.asks').children.length) fill();
  const s = subject();
  const now = JSON.stringify(s?.of || null);
  text($('use-title'), s ? `Use it: ${s.title}` : 'Use it');
  $('use-none').hidden = !!s;
  $('use-questions').hidden = !s;
  $('use-doubt').hidden = !s || s.confirmed;
  if (shown === now) return;
  shown = now;
  for (const box of document.querySelectorAll('#use .answer')) clear(box);
}
