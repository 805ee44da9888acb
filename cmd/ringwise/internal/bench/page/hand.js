// The part in hand: its strip, its rings and what it is taken for.

import { $, el, svg, set, text, hide, each, keyed, sentenceOf } from './dom.js';
import { state, photo, photos, part, reading, colour, hold, next, learn, whole, changed, ask, complain } from './state.js';
import { say, speak } from './voice.js';
import { openByHand, fillFacts, readFacts } from './forms.js';
import { open as openUse } from './use.js';
import { show as showBin, binWords } from './cabinet.js';

// change tells the server what the person said of the part in hand.
export async function change(act, more = {}) {
  const p = part();
  if (!p) return false;
  return whole(async () => {
    try {
      const told = await ask(`/photos/${state.photo}/${p.number}`, { do: act, version: p.version, ...more });
      complain('');
      state.ring = told.ring;
      chosen = act !== 'confirm';
      if (told.photo) learn(told.photo);
      return told;
    } catch (error) {
      complain(error.message);
      return false;
    }
  });
}

// pick takes a part in hand and says what it is. It may come by itself.
export function pick(photoID, number, byItself = false) {
  hold(photoID, number);
  chosen = !byItself;
  changed();
  focusRing();
  say(sentence());
}

// sentence says where the part is and what it is taken for.
function sentence() {
  const p = part();
  if (!p) return photo() ? `No parts on ${photo().name}.` : '';
  return `Part ${p.number} of ${photo().parts.length}: ${p.spoken}${binWords(reading()) ? '; ' + binWords(reading()) : ''}.`;
}

function allDone() {
  const skipped = photos().flatMap((p) => p.parts).filter((p) => p.status === 'skipped').length;
  return skipped ? `Every part is done but ${skipped} skipped.` : 'Every part is done.';
}

// goOn takes the next open part in hand.
function goOn(said) {
  const q = next();
  if (!q) {
    changed();
    focusRing();
    say(`${said} ${allDone()}`);
    return;
  }
  hold(q.photo, q.number);
  changed();
  focusRing();
  say(`${said} ${sentence()}`);
}

// A part that came or changed by itself cannot be confirmed at once, nor one that
// was weighed by the meter: a key that was meant for what was there before may come
// late.
const grace = 400; // milliseconds
let coming = 0;
let seen = ''; // the part in hand that was shown last, and its version
let chosen = false; // what is shown next is what the person asked for

function notice(p) {
  const now = p ? `${state.photo} ${p.number} ${p.version}` : '';
  const fresh = now !== seen && !chosen;
  if (now !== seen) $('refused').hidden = true;
  seen = now;
  chosen = false;
  if (!fresh) return;
  clearTimeout(coming);
  $('hand').dataset.fresh = '';
  coming = setTimeout(() => delete $('hand').dataset.fresh, grace);
}

let confirming = false; // a key that is held down confirms one part

export async function confirm() {
  const p = part();
  if (!p || p.status === 'stocked' || confirming) return;
  if ('fresh' in $('hand').dataset) return refuse();
  $('refused').hidden = true;
  const bin = binWords(reading(p));
  confirming = true;
  const told = await change('confirm').finally(() => { confirming = false; });
  if (told) goOn(`${p.candidates[p.taken]?.value || 'Part'} confirmed${bin ? ', ' + bin : ''}.`);
}

// refuse says that nothing was confirmed: for everyone at the button, where whoever
// enlarges the page looks, and once for those who listen.
function refuse() {
  const refused = $('refused');
  refused.hidden = false;
  document.activeElement.scrollIntoView({ block: 'nearest' }); // the words may cover it
  say(`${refused.textContent} ${sentence()}`);
}

async function answer(what) {
  if (await change(what)) goOn(`Part ${part()?.number}: ${what}.`);
}

export const undo = () => goBack('undo', 'Undone');
export const redo = () => goBack('redo', 'Done again');

// A key pressed twice goes back two steps: the second waits for the answer to the
// first, which says what comes before it.
let going = Promise.resolve();

function goBack(way, words) {
  going = going.then(() => goBackOnce(way, words));
  return going;
}

async function goBackOnce(way, words) {
  const which = state.bench?.session[way];
  if (!which) return say(`There is nothing to ${way}.`);
  try {
    const told = await ask(`/${way}`, { [way]: which });
    if (state.bench.session[way] === which) state.bench.session = told.session; // else what was sent to all windows came first
    complain('');
    if (told.part) hold(told.photo, told.part);
    changed();
    say(`${words}: ${told.what}.`);
  } catch (error) {
    complain(error.message);
  }
}

export function step(by) {
  const list = photo()?.parts || [];
  const at = list.findIndex((p) => p.number === state.part) + by;
  if (list[at]) return pick(state.photo, list[at].number);
  const others = photos();
  const other = others[others.findIndex((p) => p.id === state.photo) + by];
  if (other?.parts.length) pick(other.id, other.parts[by > 0 ? 0 : other.parts.length - 1].number);
}

// doings are the buttons and keys of the part in hand.
export const doings = {
  unset: () => corrected('colour', { ring: state.ring, colour: '' }),
  add: () => corrected('add', { ring: part()?.rings.length ? state.ring : -1 }),
  drop: () => corrected('drop', { ring: state.ring }),
  left: () => corrected('move', { ring: state.ring, by: -0.01 }),
  right: () => corrected('move', { ring: state.ring, by: 0.01 }),
  flip: () => corrected('flip', { ring: state.ring }),
  afresh: () => corrected('afresh'),
  'not a resistor': () => answer('not a resistor'),
  "can't tell": () => answer("can't tell"),
  skipped: () => answer('skipped'),
  hand: () => openByHand(part()),
  open: () => corrected('open'),
  use: () => openUse(),
};

// tell says how the session goes.
export const tell = () => say($('session').textContent);

export const setColour = (name) => corrected('colour', { ring: state.ring, colour: name });
export const take = (n) => part()?.candidates[n] && corrected('take', { candidate: n });

// corrected changes the part and says what that makes of it.
async function corrected(act, more) {
  const told = await change(act, more);
  if (!told) return;
  focusRing();
  say(`${told.what}: ${part().spoken}.`);
}

// walk goes to another ring.
export function walk(to) {
  const n = part()?.rings.length || 0;
  if (!n) return;
  state.ring = Math.max(0, Math.min(n - 1, to));
  showRings(part());
  focusRing();
  speak(ringLabel(part(), state.ring));
}

// moveRing moves a ring, as a drag does.
export const moveRing = (ring, by) => corrected('move', { ring, by });

export function focusRing() {
  if (!$('pointing').hidden || !$('measuring').hidden) return; // whoever points at a spot goes on pointing
  const option = $('rings').children[state.ring];
  if (option && !$('rings').hidden) option.focus();
  else if (!$('hand').hidden) $('hand').focus();
}

function ringLabel(p, i) {
  const r = p.rings[i];
  const name = r.colour ? `${r.colour}, ${colour(r.colour).letters}` : 'colour not told';
  return `ring ${i + 1} of ${p.rings.length}: ${name}${r.role ? `, ${r.role}` : ''}${r.said ? ', set by you' : ''}`;
}

export function setUp() {
  $('confirm').onclick = confirm;
  $('undo').onclick = undo;
  $('redo').onclick = redo;
  $('previous').onclick = () => step(-1);
  $('next').onclick = () => step(1);
  $('hand').addEventListener('click', (e) => {
    const button = e.target.closest('button[data-do]');
    if (button) doings[button.dataset.do]();
  });
  for (const button of document.querySelectorAll('#hand button[data-do]')) keyed(button, button.textContent, button.dataset.key);
  $('rings').onclick = (e) => {
    const option = e.target.closest('[role=option]');
    if (option) walk([...$('rings').children].indexOf(option));
  };
  $('palette').onclick = (e) => {
    const button = e.target.closest('button');
    if (button) setColour(button.dataset.colour);
  };
  $('candidates').onclick = (e) => {
    const button = e.target.closest('button');
    if (button) take(Number(button.dataset.candidate));
  };
  for (const radio of document.querySelectorAll('input[name=circuit]')) {
    radio.checked = sessionStorage.getItem('circuit') === radio.value;
    radio.onchange = () => sessionStorage.setItem('circuit', radio.value);
  }
  $('means').onclick = (e) => {
    const button = e.target.closest('button');
    if (button) corrected('mean', { sense: Number(button.dataset.sense) });
  };
  $('meter-form').onsubmit = (e) => {
    e.preventDefault();
    weigh();
  };
  $('facts-form').onsubmit = async (e) => {
    e.preventDefault();
    const told = await change('facts', { facts: readFacts($('facts-form')) });
    if (told) say('Kept: facts about the part.');
  };
  new ResizeObserver(() => drawStems(part())).observe($('rings'));
}

// weigh has the candidates weighed anew by the meter's reading.
async function weigh() {
  const circuit = document.querySelector('input[name=circuit]:checked')?.value;
  const meter = $('meter').value.trim();
  if (meter && !circuit) {
    text($('meter-error'), 'Say first whether the part is out of its circuit and discharged: its neighbours change what the meter shows.');
    return;
  }
  text($('meter-error'), '');
  const p = part();
  try {
    const told = await ask(`/photos/${state.photo}/${p.number}`, { do: 'meter', version: p.version, meter, inCircuit: circuit === 'in' });
    if (told.photo) learn(told.photo);
    focusRing();
    say([`${told.what}: ${part().spoken}.`, ...meterNotes(part())].join(' '));
  } catch (error) {
    text($('meter-error'), error.message);
  }
}

// meterNotes are what to know of the meter's reading besides why to check.
const meterNotes = (p) => p.meter.notes.filter((note) => note !== sentenceOf(p.why));

let shown = ''; // what the fields of the forms show

export function show() {
  const p = part();
  notice(p);
  hide($('hand'), !p, $('choose'));
  const session = state.bench?.session;
  for (const [way, word, key] of [['undo', 'Undo', 'z'], ['redo', 'Redo', 'Shift+Z']]) {
    keyed($(way), word, key);
    set($(way), { 'aria-disabled': !session?.[way], title: session?.[way] ? `${word}: ${session[`${way}What`]}` : null });
  }
  if (!p) return;
  const status = p.status === 'open' ? '' : p.status === 'stocked' ? ': confirmed' : `: ${p.status}`;
  $('reopen').hidden = p.status === 'open' || p.status === 'stocked';
  text($('hand-title'), `Part ${p.number} of ${photo().parts.length}${status}`);
  set($('hand'), { 'data-status': p.status });

  const strip = $('strip');
  set(strip, { src: `/photos/${state.photo}/${p.number}`, alt: `Part ${p.number} turned straight, its first ring at the left`, class: p.turned ? 'turned' : null });
  strip.style.aspectRatio = String(p.aspect);
  showRings(p);
  showReading(p);
  showCandidates(p);

  // What is being typed stays, unless something else was said of the part.
  const now = JSON.stringify([state.photo, p.number, p.meter.text, p.facts]);
  if (shown !== now) {
    $('meter').value = p.meter.text;
    text($('meter-error'), '');
    fillFacts($('facts-form'), p.facts);
    shown = now;
  }
}

// unseen is text for those who listen.
const unseen = (words) => el('span', { class: 'unseen' }, words);

function swatch(c) {
  const made = el('span', { class: 'swatch', 'aria-hidden': 'true' });
  made.style.background = c.paint;
  return made;
}

function showRings(p) {
  $('rings').hidden = p.rings.length === 0;
  $('no-rings').hidden = p.rings.length > 0;
  $('rings').style.setProperty('--count', p.rings.length);
  each($('rings'), p.rings, () => el('div', { role: 'option' }), (option, r, i) => {
    const c = r.colour ? colour(r.colour) : null;
    set(option, {
      'aria-selected': i === state.ring, tabindex: i === state.ring ? 0 : -1,
      class: r.said ? 'said' : null,
    });
    option.replaceChildren(
      unseen(`ring ${i + 1} of ${p.rings.length}: `),
      ...(c ? [swatch(c)] : [el('span', { class: 'swatch unknown', 'aria-hidden': 'true' })]),
      el('span', { class: 'letters' }, c ? c.letters : '?'), el('span', { class: 'name' }, c ? c.name : 'not told'),
      el('span', { class: 'role' }, r.role || ' '),
      unseen(r.said ? 'set by you' : ''));
  });
  showGuide(p.rings[state.ring]?.centre);
  drawStems(p);
  each($('palette'), state.bench.colours, (c) => {
    const button = el('button', { type: 'button', 'data-colour': c.name, 'aria-keyshortcuts': c.key },
      swatch(c), el('span', { class: 'letters' }, c.letters), el('span', { class: 'name' }, c.name),
      el('kbd', { 'aria-hidden': 'true' }, c.key.toUpperCase()));
    return button;
  }, (button, c) => set(button, { 'aria-pressed': p.rings[state.ring]?.colour === c.name }));
  text($('ring-title'), p.rings.length ? `Correct ring ${state.ring + 1}` : 'Rings');
}

// showGuide shows where on the strip a ring is, as a fraction of the body.
export function showGuide(centre) {
  const guide = $('guide');
  guide.hidden = centre === undefined;
  const m = state.bench.margin;
  if (!guide.hidden) guide.style.left = `${(100 * (centre + m)) / (1 + 2 * m)}%`;
}

// drawStems draws a line from each ring in the strip to its marker, where all markers
// stand in one row.
function drawStems(p) {
  const stems = $('stems');
  if (!p || !p.rings.length) return stems.replaceChildren();
  const { left, width } = $('rings').getBoundingClientRect();
  if (!width) return;
  const inTwoRows = $('rings').lastElementChild.offsetTop > $('rings').firstElementChild.offsetTop;
  set(stems, { hidden: inTwoRows }); // a line would cross the row above
  const height = 36;
  set(stems, { viewBox: `0 0 ${width} ${height}`, width, height });
  const m = state.bench.margin;
  each(stems, p.rings, () => svg('path'), (path, r, i) => {
    const from = ((r.centre + m) / (1 + 2 * m)) * width;
    const marker = $('rings').children[i].getBoundingClientRect();
    const to = marker.left - left + marker.width / 2;
    set(path, { d: `M${from} 0V8L${to} ${height - 8}V${height}`, class: i === state.ring ? 'held' : null });
  });
}

function showReading(p) {
  const c = reading(p);
  const value = $('value');
  value.replaceChildren();
  if (c) value.append(el('strong', {}, c.value), ' ', el('span', {}, c.tolerance));
  else value.append(el('strong', {}, 'No value yet'));
  text($('span'), c ? c.span : '');
  const other = c && p.taken > 0; // the person took another than the likeliest
  const trust = other ? 'taken by you, the photo says' : p.changed ? 'with what you said' : p.verdict;
  text($('trust'), c ? `${trust}: ${share(c)}` : p.verdict);
  set($('trust'), { class: other ? 'check' : p.verdict });
  text($('why'), sentenceOf(p.why));
  text($('before'), p.before && p.status === 'open' ? `Changed by what you told of the light; before that: ${p.before}.` : '');
  each($('notes'), c ? c.notes.filter((n) => n !== p.why) : [], () => el('li'), (item, note) => text(item, note));
  $('means').hidden = p.means.length === 0;
  each($('means').lastElementChild, p.means, () => el('li', {}, el('button', { type: 'button' })), (item, sense, i) => {
    const button = item.firstElementChild;
    set(button, { 'data-sense': i, 'aria-pressed': sense.taken });
    text(button, [sense.value, sense.note].filter(Boolean).join(': '));
  });
  const m = p.meter;
  text($('meter-says'), m.text ? [`The meter says ${m.text}${m.fit ? `: ${m.fit}` : ''}.`, ...meterNotes(p)].join(' ') : '');
  set($('meter-says'), { class: m.text && !m.agrees ? 'disagrees' : null });

  const confirmButton = $('confirm');
  const stocked = p.status === 'stocked';
  keyed(confirmButton, stocked ? 'In the stock' : c ? `Confirm ${c.value} ${c.tolerance}` : 'Nothing to confirm yet', stocked || !c ? '' : 'Enter');
  confirmButton.disabled = stocked || !c;
  showBin($('bin'), c, stocked);
  showCautions(p);
}

// share is how likely a candidate is.
const share = (c) => (c.percent < 1 ? '<1 %' : `${c.percent} %`);


// general is what to know before any confirmed part is used.
const general = [
  'Mains: unplug before you touch a circuit. Leave to licensed people what local codes leave to them.',
  'Stored charge: capacitors hold it long after. Discharge them and measure that they are empty.',
  'Heat: rings tell no power rating. A part that runs hot needs the rating and distance of the one it replaces.',
  'Flameproof, fusible and wire-wound parts: replace only with the same kind.',
];

function showCautions(p) {
  const box = $('cautions');
  if (!box.children.length) {
    box.append(el('ul', { class: 'special' }), el('details', {}, el('summary', {}, 'Before you use it: mains, stored charge, heat, special kinds'),
      el('ul', {}, ...general.map((g) => el('li', {}, g)))));
  }
  each(box.firstElementChild, p.cautions, () => el('li'), (item, caution) => text(item, `Caution: ${caution}`));
  box.firstElementChild.hidden = p.cautions.length === 0;
}

function showCandidates(p) {
  text($('candidates-title'), p.candidates.length ? 'Candidates' : 'No candidates');
  each($('candidates'), p.candidates, () => el('li', {}, el('button', { type: 'button' })), (item, c, i) => {
    const button = item.firstElementChild;
    const letters = c.rings.map((name) => colour(name).letters).join(' ');
    set(button, {
      'data-candidate': i, 'aria-pressed': i === p.taken, 'aria-keyshortcuts': i + 1,
    });
    button.replaceChildren(unseen('Candidate '), el('kbd', {}, i + 1), el('span', { class: 'what' }, `${c.value} ${c.tolerance}`),
      el('span', { class: 'share' }, share(c)), el('span', { class: 'letters' }, letters), unseen(c.rings.join(' ')));
  });
}
