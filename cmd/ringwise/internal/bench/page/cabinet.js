// The stock: a bin for each value and tolerance.

import { $, el, set, text, each } from './dom.js';
import { state, colour, ask, complain } from './state.js';
import { say } from './voice.js';
import { openFacts } from './forms.js';
import { open as openUse } from './use.js';

const binOf = (candidate) => state.bins.find((b) => b.key === candidate?.bin);

// binWords says into which bin a reading goes.
export function binWords(candidate) {
  if (!candidate) return '';
  const bin = binOf(candidate);
  return bin ? `into the bin with ${bin.count}` : 'into a new bin';
}

// show shows the bin of a reading.
export function show(box, candidate, stocked) {
  box.hidden = !candidate;
  if (!candidate) return;
  const bin = binOf(candidate);
  box.replaceChildren(
    el('span', { class: 'lead' }, stocked ? 'Is in bin' : 'Goes into bin'),
    el('span', { class: 'plate' }, candidate.marking),
    el('span', {}, bin ? `${bin.count} in it` : 'a new bin'));
}

// bring adds the entries of a saved stock.
async function bring(file) {
  try {
    const told = await ask(`/stock?name=${encodeURIComponent(file.name)}`, new Blob([file]));
    complain('');
    say(`${told.what}.`);
  } catch (error) {
    complain(error.message);
  }
}

export function setUp() {
  $('find').oninput = list;
  $('bring-stock').onclick = () => $('stock-file').click();
  $('stock-file').onchange = async () => {
    const [file] = $('stock-file').files;
    if (file) await bring(file);
    $('stock-file').value = '';
  };
  $('cabinet').onclick = async (e) => {
    const button = e.target.closest('button[data-do]');
    if (!button) return;
    const { entry, step } = button.closest('[data-entry]').dataset;
    if (button.dataset.do === 'use') return openUse(Number(entry));
    if (button.dataset.do === 'facts') return openFacts(state.bins.flatMap((b) => b.entries).find((q) => q.id === Number(entry)));
    try {
      const told = await ask(`/bins/${entry}`, { do: button.dataset.do, count: 1, step: Number(step) });
      complain('');
      say(`${told.what}.`);
    } catch (error) {
      complain(error.message);
    }
  };
}

// words are those of a bin in which a search looks.
function words(bin) {
  const letters = bin.rings.map((r) => colour(r).letters).join(' ');
  const entries = bin.entries.flatMap((e) => [e.photo, e.note, e.origin, ...e.facts]);
  return [bin.name, bin.marking, bin.name.replace(/[\sΩ]/g, ''), letters, bin.rings.join(' '), ...entries].join(' ').toLowerCase();
}

export function list() {
  if (!state.bench) return;
  const wanted = $('find').value.toLowerCase().split(/\s+/).filter(Boolean);
  const found = state.bins.filter((b) => wanted.every((w) => words(b).includes(w)));
  const parts = found.reduce((sum, b) => sum + b.count, 0);
  text($('bins-count'), state.bins.length === 0 ? 'Nothing is in the stock yet. Confirm a part, or enter one by hand.'
    : `${found.length} of ${state.bins.length} bins, ${parts} ${parts === 1 ? 'part' : 'parts'}`);
  const cabinet = $('cabinet');
  const at = [...cabinet.children].findIndex((item) => item.contains(document.activeElement));
  each(cabinet, found, () => el('li', {}, el('details', {}, el('summary'), el('ul', { class: 'entries' }))), (item, bin) => {
    const [summary, entries] = item.firstElementChild.children;
    summary.replaceChildren(el('span', { class: 'plate' }, bin.marking), el('span', { class: 'what' }, bin.name),
      el('span', { class: 'letters' }, bin.rings.map((r) => colour(r).letters).join(' ')),
      el('span', { class: 'count' }, `${bin.count} ${bin.count === 1 ? 'part' : 'parts'}`));
    each(entries, bin.entries, newEntry, showEntry, (e) => e.id);
  }, (bin) => bin.key);
  // Where what had the focus is gone, no key must act on what comes in its place.
  if (at >= 0 && !cabinet.contains(document.activeElement)) (cabinet.children[Math.min(at, found.length - 1)]?.firstElementChild.firstElementChild || $('find')).focus();
}

function newEntry() {
  const button = (act, label) => el('button', { type: 'button', 'data-do': act }, label);
  return el('li', {}, el('img', { alt: '' }), el('div', {}, el('p', { class: 'facts' }), el('ul', { class: 'special' })),
    el('div', { class: 'row' }, button('use', 'Use it'), button('take', 'Take one'), button('put', 'Put one back'), button('facts', 'Change facts'), button('remove', 'Remove')));
}

function showEntry(item, e) {
  const [img, about, buttons] = item.children;
  set(item, { 'data-entry': e.id, 'data-step': e.step });
  img.hidden = !e.crop;
  if (e.crop) set(img, { src: `/bins/${e.id}/crop`, alt: `Picture of entry ${e.id}` });
  const from = e.photo ? `${e.photo}, part ${e.part}` : 'no photo';
  const lines = [`${e.count} here`, `from ${e.origin === 'rings' ? 'its rings' : 'a value given by hand'}, ${from}`, e.when,
    e.verdict && `read as ${e.verdict}`, ...e.changes, e.meter && `meter ${e.meter}`, ...e.facts, e.note];
  text(about.firstElementChild, `#${e.id}: ${lines.filter(Boolean).join('; ')}`);
  each(about.lastElementChild, e.cautions, () => el('li'), (line, caution) => text(line, `Caution: ${caution}`));
  for (const b of buttons.children) set(b, { 'aria-label': `${b.textContent} of entry ${e.id}` });
}
