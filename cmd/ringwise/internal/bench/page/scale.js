// How large things are in a photo: a person points at two spots and says how far
// apart they are. Then every body of the photo has a size, as an estimate.

import { $, svg, set, text, sentenceOf } from './dom.js';
import { state, photo, part, learn, whole, ask, complain } from './state.js';
import { say } from './voice.js';
import { focusRing } from './hand.js';

const places = [[0.4, 0.5], [0.6, 0.5]]; // of the two spots, as fractions of the photo
const placed = [false, false];
let from = null; // what had the focus before

const spots = () => [$('spot-1'), $('spot-2')];
const open = () => !$('measuring').hidden;
const pixels = () => Math.round(Math.hypot((places[0][0] - places[1][0]) * photo().width, (places[0][1] - places[1][1]) * photo().height));

function draw() {
  const share = (x) => (100 * x).toFixed(1);
  spots().forEach((spot, i) => {
    spot.style.left = `${100 * places[i][0]}%`;
    spot.style.top = `${100 * places[i][1]}%`;
    set(spot, { 'aria-label': `Spot ${i + 1} at ${share(places[i][0])} percent across, ${share(places[i][1])} percent down. Arrows move it, with Shift by more. Enter goes on, Escape leaves` });
  });
  const line = $('measuring').querySelector('line');
  set(line, { x1: `${100 * places[0][0]}%`, y1: `${100 * places[0][1]}%`, x2: `${100 * places[1][0]}%`, y2: `${100 * places[1][1]}%` });
  text($('scale-pixels'), `The spots are ${pixels()} pixels apart.`);
  near(placed[0] ? 1 : 0);
}

// near shows the surroundings of a spot enlarged.
function near(i) {
  const held = spots().indexOf(document.activeElement);
  const [x, y] = places[held < 0 ? i : held];
  const glass = $('glass');
  const shown = $('photo');
  if (!shown.naturalWidth) return;
  const c = glass.getContext('2d');
  const side = shown.naturalWidth / 16;
  c.imageSmoothingEnabled = false;
  c.fillStyle = '#808080';
  c.fillRect(0, 0, glass.width, glass.height);
  c.drawImage(shown, x * shown.naturalWidth - side / 2, y * shown.naturalHeight - side / 2, side, side, 0, 0, glass.width, glass.height);
  for (const [style, width] of [['#fff', 5], ['#000', 2]]) {
    c.strokeStyle = style;
    c.lineWidth = width;
    c.beginPath();
    for (const [a, b] of [[0, 0.42], [0.58, 1]]) {
      c.moveTo(a * glass.width, glass.height / 2);
      c.lineTo(b * glass.width, glass.height / 2);
      c.moveTo(glass.width / 2, a * glass.height);
      c.lineTo(glass.width / 2, b * glass.height);
    }
    c.stroke();
  }
}

// measure starts to point at two spots.
function measure() {
  if (!photo()) return;
  from = document.activeElement;
  const known = photo().scale;
  places.splice(0, 2, known?.from || [0.4, 0.5], known?.to || [0.6, 0.5]);
  placed.fill(Boolean(known));
  $('scale-length').value = known ? String(known.mm) : '';
  text($('scale-error'), '');
  $('scale-none').hidden = !known;
  $('measuring').hidden = false;
  $('scale-form').hidden = false;
  $('spot-1').focus();
  draw();
}

function leave() {
  $('measuring').hidden = true;
  $('scale-form').hidden = true;
  if (from?.isConnected && from !== document.body) from.focus();
  else focusRing();
}

async function tell(what) {
  return whole(async () => {
    try {
      const told = await ask(`/photos/${state.photo}/scale`, what);
      complain('');
      if (told.photo) learn(told.photo);
      leave();
      say([sentenceOf(told.what), part()?.body ? bodyWords(part().body) : ''].join(' '));
    } catch (error) {
      text($('scale-error'), error.message);
      if (error.field) $('scale-length').focus();
    }
  });
}

const keep = () => tell({ from: places[0], to: places[1], length: $('scale-length').value });

// bodyWords says how large a body is and what follows from it.
const bodyWords = (b) => `Body ${b.size}, estimated, if it lies in the plane that was measured. ${sentenceOf(b.rating)}`;

function place(i, x, y) {
  places[i] = [x, y].map((v) => Math.max(0, Math.min(1, v)));
  draw();
}

function goOn(i) {
  placed[i] = true;
  if (i === 0 && !placed[1]) $('spot-2').focus();
  else $('scale-length').focus();
  draw();
}

export function setUp() {
  const line = svg('line');
  $('measuring').prepend(svg('svg', { 'aria-hidden': 'true' }));
  $('measuring').firstElementChild.append(line);
  $('set-scale').onclick = measure;
  $('scale-leave').onclick = leave;
  $('scale-none').onclick = () => tell({ none: true });
  $('scale-form').onsubmit = (e) => {
    e.preventDefault();
    keep();
  };
  $('scale-form').addEventListener('keydown', (e) => { if (e.key === 'Escape') leave(); });
  const moves = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  spots().forEach((spot, i) => {
    spot.onfocus = draw;
    spot.addEventListener('keydown', (e) => {
      if (e.ctrlKey || e.metaKey || e.altKey) return;
      if (e.key === 'Escape') leave();
      else if (e.key === 'Enter' || e.key === ' ') { if (!e.repeat) goOn(i); } else if (moves[e.key]) {
        const by = e.shiftKey ? 0.02 : 0.002;
        place(i, ...places[i].map((v, k) => v + by * moves[e.key][k]));
        spot.scrollIntoView({ block: 'nearest' });
      } else return;
      e.preventDefault();
    });
  });
  $('measuring').addEventListener('click', (e) => {
    if (e.detail === 0) return; // a key pressed a spot
    const { left, top, width, height } = $('measuring').getBoundingClientRect();
    const at = [(e.clientX - left) / width, (e.clientY - top) / height];
    const far = (p) => Math.hypot((p[0] - at[0]) * width, (p[1] - at[1]) * height);
    let i = placed[0] ? 1 : 0;
    if (placed[0] && placed[1]) i = far(places[0]) < far(places[1]) ? 0 : 1; // the nearer is moved
    place(i, ...at);
    goOn(i);
  });
}

let shown = 0; // the photo that was shown last

export function show() {
  const p = photo();
  if (p?.id !== shown && open()) leave();
  shown = p?.id;
  const scale = p?.scale;
  text($('set-scale'), scale ? `Scale: ${scale.mm} mm between two spots` : 'Set the scale');
  const body = part()?.body;
  $('body-size').hidden = !body;
  if (!body) return;
  text($('body-size'), bodyWords(body));
  set($('body-size'), { title: body.caveat });
}
