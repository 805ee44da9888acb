// Question sheets for a class, made of confirmed parts.

import { $, el } from './dom.js';
import { state } from './state.js';
import { field, entry, select, valuesOf, setUpQuestion } from './question.js';

export function setUp() {
  const form = $('lesson-form');
  setUpQuestion(form, '/sheets', () => {
    const told = valuesOf(form, ['from', 'level', 'count', 'variants', 'paper', 'title', 'note', 'seed']);
    const ticked = (name) => form.querySelector(`[name=${name}]`).checked;
    return {
      ...told, level: Number(told.level), kinds: [...form.querySelectorAll('[name=kinds]:checked')].map((box) => box.value),
      large: ticked('large'), letters: ticked('letters'), grey: ticked('grey'),
    };
  });
}

function fill() {
  const form = $('lesson-form');
  form.querySelector('.asks').append(
    field('lesson', 'from', 'Parts', select([['session', 'confirmed in this session'], ['stock', 'all of the stock']])),
    field('lesson', 'level', 'Level', select([['1', '1: three and four rings'], ['2', '2: five rings, lowest and highest'], ['3', '3: six rings, spans, mains']], '2')),
    field('lesson', 'count', 'Questions on a sheet', entry({ value: '10', inputmode: 'numeric' })),
    field('lesson', 'variants', 'Variants', entry({ value: '1', inputmode: 'numeric' }), 'The same questions in other orders'),
    field('lesson', 'title', 'Title', entry({ placeholder: 'Radio club, first evening', maxlength: 200 })),
    field('lesson', 'note', 'Line at the head', entry({ maxlength: 200 })),
    field('lesson', 'paper', 'Paper', select([['a4', 'A4'], ['letter', 'Letter'], ['both', 'both']])),
    field('lesson', 'seed', 'Seed', entry({ inputmode: 'numeric' }), 'Of sheets to make again; empty: a new one'));
  $('lesson-kinds').append(...state.bench.asks.map((a) => el('label', {},
    el('input', { type: 'checkbox', name: 'kinds', value: a.kind, checked: true, 'aria-describedby': 'lesson-kinds-error' }), a.heading)));
}

export function show() {
  if (!$('lesson-kinds').querySelector('label')) fill();
}
