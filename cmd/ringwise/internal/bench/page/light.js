// What the person tells of a photo's light: a white spot, and that it is the
// light of the photo before. Confirmed parts tell the rest.

import { $, set } from './dom.js';
import { state, photo, photos, part, learn, whole, ask, complain } from './state.js';
import { say } from './voice.js';
import { focusRing } from './hand.js';

let at = [0.5, 0.5]; // where the cross is, as fractions of the photo
let from = null; // what had the focus before pointing

// tell tells the server and says what that makes of the part in hand.
async function tell(what) {
  const before = part()?.spoken;
  return whole(async () => {
    try {
      const told = await ask(`/photos/${state.photo}/light`, what);
      complain('');
      if (told.photo) learn(told.photo);
      const now = part()?.spoken;
      say(`${told.what}${now && now !== before ? `: part ${part().number}: ${now}` : ''}.`);
      return true;
    } catch (error) {
      complain(error.message);
      return false;
    }
  });
}

function place() {
  const cross = $('cross');
  cross.style.left = `${100 * at[0]}%`;
  cross.style.top = `${100 * at[1]}%`;
  const share = (x) => Math.round(100 * x);
  set(cross, { 'aria-label': `White spot at ${share(at[0])} percent across, ${share(at[1])} percent down. Arrows move it, Enter keeps it, Escape leaves` });
}

// point starts pointing: by arrows, or by a click on the photo.
export function point() {
  if (!photo()) return;
  from = document.activeElement;
  at = [0.5, 0.5];
  $('pointing').hidden = false;
  place();
  $('cross').focus();
}

function leave() {
  $('pointing').hidden = true;
  if (from?.isConnected && from !== document.body) from.focus();
  else focusRing();
}

async function keep() {
  if (await tell({ white: at })) leave();
}

export function setUp() {
  $('white').onclick = point;
  $('same-light').onchange = async (e) => {
    if (!await tell({ same: e.target.checked })) show();
  };
  const cross = $('cross');
  const moves = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  cross.addEventListener('keydown', (e) => {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    if (e.key === 'Escape') leave();
    else if (e.key === 'Enter' || e.key === ' ') { if (!e.repeat) keep(); } else if (moves[e.key]) {
      const by = e.shiftKey ? 0.05 : 0.01;
      at = at.map((x, i) => Math.max(0, Math.min(0.999, x + by * moves[e.key][i])));
      place();
    } else return;
    e.preventDefault();
  });
  $('pointing').addEventListener('click', (e) => {
    const { left, top, width, height } = $('pointing').getBoundingClientRect();
    if (e.detail === 0) return; // a key pressed the cross
    at = [(e.clientX - left) / width, (e.clientY - top) / height].map((x) => Math.max(0, Math.min(0.999, x)));
    place();
    keep();
  });
}

let shown = 0; // the photo that was shown last

export function show() {
  const p = photo();
  if (p?.id !== shown) $('pointing').hidden = true;
  shown = p?.id;
  if (!p) return;
  const before = photos()[photos().findIndex((q) => q.id === p.id) - 1];
  $('same-light-row').hidden = !before;
  $('same-light').checked = Boolean(before) && before.lamp === p.lamp;
}
