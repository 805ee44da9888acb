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
  setUpQuestion($('spread-form'), '/use/spread', () => ({ of: of(), ...valuesOf($('spread-form'), ['low', 'high', 'tempco', 'measured']), inCircuit: $('spread-form').elements.inCircuit.checked }));
  setUpQuestion($('stand-in-form'), '/use/stand-in', () => ({ of: of(), ...valuesOf($('stand-in-form'), ['value', 'tolerance', 'power', 'voltage', 'kind']) }));
  setUpQuestion($('power-form'), '/use/power', () => ({ of: of(), ...valuesOf($('power-form'), ['at', 'ambient', 'margin', 'rated']) }));
}

function fill() {
  $('spread-form').querySelector('.asks').append(
    field('spread', 'low', 'Coldest, °C', entry({ placeholder: '-10' }), 'Leave both empty without a drift'),
    field('spread', 'high', 'Hottest, °C', entry({ placeholder: '60' })),
    field('spread', 'tempco', 'Coefficient, ppm/K', entry({ placeholder: '100' }), 'Empty: that of its rings'),
    field('spread', 'measured', 'Meter shows', entry({ placeholder: '5.58k' }), 'Empty: what was noted of the part'),
    el('label', {}, el('input', { type: 'checkbox', name: 'inCircuit' }), 'It is still in its circuit'));
  $('stand-in-form').querySelector('.asks').append(
    field('stand-in', 'value', 'Value needed', entry({ placeholder: '5K1' }), 'Such as 5K1, 5.1 kΩ or 5K1J'),
    field('stand-in', 'tolerance', 'Tolerance that the circuit bears', entry({ placeholder: '5 % or J' }), 'Empty: an ordinary place, where 10 to 20 % usually serves'),
    field('stand-in', 'power', 'Power rating needed', entry({ placeholder: '1/4 W' }), 'Empty: not known'),
    field('stand-in', 'voltage', 'Most voltage across it', entry({ placeholder: '12 V' }), 'Empty: not known'),
    field('stand-in', 'kind', 'Kind needed', select([['', 'not known'], ...state.bench.kinds.map((k) => [k, k])])));
  $('power-form').querySelector('.asks').append(
    field('power', 'at', 'Voltage across it, or current through it', entry({ placeholder: '12 V or 20 mA' }), 'With its unit'),
    field('power', 'ambient', 'Round the part, °C', entry({ placeholder: '25' }), 'Inside the case; empty: 25'),
    field('power', 'margin', 'Margin, times', entry({ placeholder: '2' }), 'Empty: 2 (common practice)'),
    field('power', 'rated', 'Its power rating', entry({ placeholder: '1/4 W' }), 'Empty: what is known of the part'));
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
