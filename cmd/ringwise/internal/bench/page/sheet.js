// The photo with every body outlined and numbered.

import { $, el, svg, set, text, hide, each } from './dom.js';
import { state, photo, photos, firstOf, ask, complain } from './state.js';
import { say } from './voice.js';

const marks = { open: '', stocked: '✓', 'not a resistor': '✕', "can't tell": '?', skipped: '…' };
const words = { open: 'open', stocked: 'confirmed', 'not a resistor': 'not a resistor', "can't tell": "can't tell", skipped: 'skipped' };

// title names a part in a few words.
function title(p) {
  const value = p.taken >= 0 ? p.candidates[p.taken].value : 'no reading';
  return `Part ${p.number}: ${p.status === 'open' ? p.verdict : words[p.status]}, ${value}`;
}

export function setUp(pick) {
  $('clear').onclick = async () => {
    const { id, name } = photo();
    try {
      await ask(`/photos/${id}`, {}, 'DELETE');
      complain('');
      say(`${name} is cleared away. Undo lays it back.`);
    } catch (error) {
      complain(error.message);
    }
  };
  const chosen = (e) => {
    const button = e.target.closest('button[data-part]');
    if (button) pick(state.photo, Number(button.dataset.part));
  };
  $('plates').onclick = chosen;
  $('outlines').onclick = (e) => {
    const group = e.target.closest('g');
    if (group) pick(state.photo, photo().parts[[...$('outlines').children].indexOf(group)].number);
  };
  $('parts').onclick = chosen;
  $('photos').onclick = (e) => {
    const button = e.target.closest('button');
    if (!button) return;
    const id = Number(button.dataset.photo);
    pick(id, firstOf(photos().find((p) => p.id === id)));
  };
  new ResizeObserver(() => placePlates()).observe($('plates'));
}

export function show() {
  const list = photos();
  $('welcome').hidden = list.length > 0;
  each($('photos'), list, () => el('li', {}, el('button', { type: 'button' })), (item, p) => {
    const button = item.firstElementChild;
    const done = p.parts.filter((q) => q.status !== 'open').length;
    set(button, { 'data-photo': p.id, 'aria-current': p.id === state.photo ? 'true' : null });
    text(button, `${p.name}: ${done} of ${p.parts.length} done`);
  });

  const p = photo();
  hide(document.querySelector('.sheet'), !p, $('choose'));
  if (!p) return;
  text($('sheet-title'), p.name);
  set($('photo'), { src: `/photos/${p.id}`, width: p.width, height: p.height, alt: `The photo ${p.name}, ${count(p.parts.length)} found` });

  const outlines = $('outlines');
  set(outlines, { viewBox: `0 0 ${p.width} ${p.height}`, preserveAspectRatio: 'none' });
  each(outlines, p.parts, () => {
    const group = svg('g');
    group.append(svg('polygon', { class: 'under' }), svg('polygon', { class: 'over' }));
    return group;
  }, (group, q) => {
    set(group, { class: `${q.verdict} ${q.status === 'open' ? 'open' : 'done'}${q.number === state.part ? ' held' : ''}` });
    const points = q.outline.map(([x, y]) => `${x * p.width},${y * p.height}`).join(' ');
    for (const polygon of group.children) set(polygon, { points });
  });

  const number = (button, q) => {
    set(button, {
      type: 'button', 'data-part': q.number,
      'aria-current': q.number === state.part ? 'true' : null, class: q.status === 'open' ? 'open' : 'done',
    });
  };
  each($('plates'), p.parts, () => el('button', {}, el('span')), (button, q) => {
    number(button, q);
    set(button, { 'aria-label': title(q) });
    text(button.firstElementChild, `${q.number}${marks[q.status]}`);
  });
  each($('parts'), p.parts, () => el('li', {}, el('button')), (item, q) => {
    number(item.firstElementChild, q);
    const value = q.taken >= 0 ? q.candidates[q.taken].value : '–';
    item.firstElementChild.replaceChildren(`${q.number} `, el('span', { 'aria-hidden': 'true' }, marks[q.status] || (q.verdict === 'sure' ? '' : '?')), ` ${value}`,
      el('span', { class: 'unseen' }, `, ${q.status === 'open' ? q.verdict : words[q.status]}`));
  });
  placePlates();
}

export const count = (n) => (n === 0 ? 'no parts' : n === 1 ? '1 part' : `${n} parts`);

// placePlates puts each number where it covers least: beside its body rather
// than on it or on another.
function placePlates() {
  const p = photo();
  const plates = $('plates');
  if (!p) return;
  const { width, height } = plates.getBoundingClientRect();
  if (!width) return;
  const boxes = p.parts.map(({ outline }) => {
    const xs = outline.map(([x]) => x * width);
    const ys = outline.map(([, y]) => y * height);
    return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) };
  });
  const size = plates.querySelector('span')?.offsetHeight || 0; // of the plate that is seen; it grows with the letters
  const taken = [];
  const shared = (a, b) => Math.max(0, Math.min(a.right, b.right) - Math.max(a.left, b.left))
    * Math.max(0, Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top));
  p.parts.forEach((q, i) => {
    const b = boxes[i];
    const middle = [(b.left + b.right) / 2, (b.top + b.bottom) / 2];
    const gap = size / 2 + 6;
    const spots = [
      [middle[0], b.bottom + gap], [middle[0], b.top - gap], [b.left - gap, middle[1]], [b.right + gap, middle[1]],
      [b.left, b.bottom + gap], [b.right, b.bottom + gap], [b.left, b.top - gap], [b.right, b.top - gap],
    ].map(([x, y]) => [Math.max(size / 2, Math.min(width - size / 2, x)), Math.max(size / 2, Math.min(height - size / 2, y))]);
    let best = spots[0];
    let least = Infinity;
    for (const [x, y] of spots) {
      const plate = { left: x - size / 2, right: x + size / 2, top: y - size / 2, bottom: y + size / 2 };
      const cost = [...boxes, ...taken].reduce((sum, other) => sum + shared(plate, other), 0);
      if (cost < least) [best, least] = [[x, y], cost];
    }
    const [x, y] = best;
    taken.push({ left: x - size / 2, right: x + size / 2, top: y - size / 2, bottom: y + size / 2 });
    const button = plates.children[i];
    button.style.left = `${x}px`;
    button.style.top = `${y}px`;
  });
}
