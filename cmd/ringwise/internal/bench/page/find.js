// Parts to find: joined to a value, dividing a voltage, or for a project's list;
// from the stock or from a series of preferred numbers.

import { $, set, text, goTo } from './dom.js';
import { state } from './state.js';
import { field, entry, select, valuesOf, setUpQuestion, clear } from './question.js';
import { needFields, needNames, marginField } from './use.js';
import { say } from './voice.js';

let name = ''; // of the list's file
let settled = false; // the person has said where parts come from

function choice() {
  const told = valuesOf($('choice'), ['from', 'least', 'most', 'partTolerance', 'partPower']);
  return { from: told.from, least: told.least, most: told.most, tolerance: told.partTolerance, power: told.partPower };
}

export function setUp() {
  const shared = [$('choice')];
  setUpQuestion($('replace-form'), '/find/replace', () => ({ choice: choice(), ...valuesOf($('replace-form'), needNames) }), shared);
  setUpQuestion($('combine-form'), '/find/combine', () => {
    const told = valuesOf($('combine-form'), ['target', 'tolerance', 'parts', 'at', 'margin']);
    return { choice: choice(), ...told, parts: Number(told.parts) };
  }, shared);
  setUpQuestion($('divider-form'), '/find/divider', () => ({ choice: choice(), ...valuesOf($('divider-form'), ['in', 'out', 'load', 'source', 'current', 'margin']) }), shared);
  setUpQuestion($('project-form'), '/find/project', () => ({ name, list: $('project-list').value }));
  $('choose-list').onclick = () => $('list-file').click();
  $('list-file').onchange = () => {
    bringList($('list-file').files[0]);
    $('list-file').value = '';
  };
  $('project-list').oninput = () => { name = ''; };
}

// mostList is the largest list, in bytes.
const mostList = 1 << 20;

// isList tells lists from photos.
export const isList = (file) => /\.(csv|tsv|txt)$/i.test(file.name) || file.type === 'text/csv';

// bringList puts a list's file into the form. Nothing is asked yet.
export async function bringList(file) {
  if (!file) return;
  const room = $('project-list-error');
  clear($('project-form').nextElementSibling);
  if (file.size > mostList) {
    set($('project-list'), { 'aria-invalid': 'true' });
    text(room, `${file.name} is larger than 1 MB: no parts list is. Choose the list itself.`);
  } else {
    $('project-list').value = await file.text();
    name = file.name;
    set($('project-list'), { 'aria-invalid': null });
    text(room, '');
    say(`${file.name} is in the field. Look it up in the stock when you are ready.`);
  }
  goTo('finding', () => $('project-list').focus());
}

function fill() {
  const from = select([['stock', 'the stock'], ...state.bench.series.map((e) => [e, `${e} (IEC 60063)`])]);
  $('choice').querySelector('.asks').append(field('choice', 'from', 'Parts come from', from));
  $('series-fields').append(
    field('choice', 'least', 'Smallest value', entry({ placeholder: '1' }), 'Empty: 1 Ω'),
    field('choice', 'most', 'Largest value', entry({ placeholder: '10M' }), 'Empty: 10 MΩ'),
    field('choice', 'partTolerance', 'Their tolerance', entry({ placeholder: '5 % or J' }), 'Empty: the usual one of the series'),
    field('choice', 'partPower', 'Their power rating', entry({ placeholder: '1/4 W' }), 'Empty: not known'));
  from.onchange = () => {
    settled = true;
    toggle();
  };
  $('replace-form').querySelector('.asks').append(...needFields('replace'));
  $('combine-form').querySelector('.asks').append(
    field('combine', 'target', 'Value wanted', entry({ placeholder: '5.23k' }), 'In any form, such as 5K23 or 5.23 kΩ'),
    field('combine', 'tolerance', 'The whole may be off by', entry({ placeholder: '5 % or J' }), 'Empty: no bound'),
    field('combine', 'parts', 'At most', select([['1', '1 part'], ['2', '2 parts'], ['3', '3 parts'], ['4', '4 parts']], '3')),
    field('combine', 'at', 'Voltage across it, or power in it', entry({ placeholder: '10 V or 0.5 W' }), 'With its unit; empty: not known'),
    marginField('combine'));
  $('divider-form').querySelector('.asks').append(
    field('divider', 'in', 'Voltage in', entry({ placeholder: '12 V' })),
    field('divider', 'out', 'Voltage out', entry({ placeholder: '3.3 V' })),
    field('divider', 'load', 'Load', entry({ placeholder: '10k' }), 'Resistance from the output to the common end; empty: none'),
    field('divider', 'source', 'Source', entry({ placeholder: '50' }), "The source's own resistance; empty: none"),
    field('divider', 'current', 'Most current from the source', entry({ placeholder: '5 mA' }), 'Empty: as much as makes 125 mW'),
    marginField('divider'));
}

const toggle = () => { $('series-fields').hidden = $('choice-from').value === 'stock'; };

export function show() {
  if (!$('choice').querySelector('.asks').children.length) fill();
  if (settled) return;
  $('choice-from').value = state.bins.length ? 'stock' : 'E24'; // as long as there is no stock
  toggle();
}
