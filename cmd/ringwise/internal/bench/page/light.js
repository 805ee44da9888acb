// What the person tells of a photo's light: a white spot, and that it is the
// light of the photo before. Confirmed parts tell the rest.

import { $ } from './dom.js';
import { state, photo, photos, part, learn, whole, ask, complain } from './state.js';
import { say } from './voice.js';
import { point, leave } from './point.js';

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

// pointWhite has the person point at a white spot.
export const pointWhite = () => point({ names: ['White spot'], step: 0.01, keep: ([white]) => tell({ white }) });

export function setUp() {
  $('white').onclick = pointWhite;
  $('same-light').onchange = async (e) => {
    if (!await tell({ same: e.target.checked })) show();
  };
}

let shown = 0; // the photo that was shown last

export function show() {
  const p = photo();
  if (p?.id !== shown) leave();
  shown = p?.id;
  if (!p) return;
  const before = photos()[photos().findIndex((q) => q.id === p.id) - 1];
  $('same-light-row').hidden = !before;
  $('same-light').checked = Boolean(before) && before.lamp === p.lamp;
}
