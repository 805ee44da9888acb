// The bench: photos in, parts confirmed by a person, stock out.

import { $, set, text } from './dom.js';
import { state, onChange, listen } from './state.js';
import * as voice from './voice.js';
import * as sheet from './sheet.js';
import * as light from './light.js';
import * as scale from './scale.js';
import * as point from './point.js';
import * as mark from './mark.js';
import * as drag from './drag.js';
import * as hand from './hand.js';
import * as intake from './intake.js';
import * as cabinet from './cabinet.js';
import * as forms from './forms.js';
import * as keys from './keys.js';
import * as phone from './phone.js';
import * as camera from './camera.js';
import * as use from './use.js';
import * as find from './find.js';
import * as lesson from './lesson.js';
import * as values from './values.js';

// titles of the views besides the bench.
const titles = { bins: 'Bins – Ringwise', use: 'Use it – Ringwise', finding: 'Find – Ringwise', lesson: 'Sheets – Ringwise' };

// view shows the view that the address names, else the bench.
function view() {
  const named = location.hash.slice(1);
  const name = Object.hasOwn(titles, named) ? named : 'bench';
  for (const other of ['bench', ...Object.keys(titles)]) {
    $(other).hidden = other !== name;
    set($(`to-${other}`), { 'aria-current': other === name ? 'page' : null });
  }
  document.title = titles[name] || 'Ringwise bench';
  if (name === named) scrollTo(0, 0);
}

// session sums up what was done since the program started.
function session() {
  const s = state.bench.session;
  const waiting = s.counts.open || 0;
  const words = [`${s.confirmed} confirmed${s.corrected ? `, ${s.corrected} of them corrected` : ''}`, `${waiting} to go`];
  for (const status of ['skipped', 'not a resistor', "can't tell"]) if (s.counts[status]) words.push(`${s.counts[status]} ${status}`);
  if (s.perMinute) words.push(`${s.perMinute} a minute`);
  text($('session'), `This session: ${words.join(', ')}`);
  $('unsaved').hidden = !s.unsaved;
  text($('save-unsaved'), `Not in the stock yet: ${s.unsaved} confirmed. Save them for ringwise stock import`);
}

// makeRoom keeps what has the focus beside the warnings, which stay in view, not
// below them (WCAG 2.2, 2.4.11).
function makeRoom() {
  document.documentElement.style.scrollPaddingTop = `${$('warnings').offsetHeight}px`;
  const held = document.activeElement;
  if (held !== document.body) held.scrollIntoView({ block: 'nearest' });
}

onChange(() => {
  if (!state.bench) return;
  sheet.show();
  light.show();
  scale.show();
  hand.show();
  cabinet.list();
  keys.show();
  phone.show();
  camera.show();
  use.show();
  find.show();
  lesson.show();
  session();
});
voice.setUp();
sheet.setUp(hand.pick);
light.setUp();
scale.setUp();
point.setUp();
mark.setUp();
drag.setUp();
hand.setUp();
intake.setUp(find);
cabinet.setUp();
forms.setUp(hand.focusRing);
keys.setUp();
phone.setUp();
use.setUp();
find.setUp();
lesson.setUp();
values.setUp();
new ResizeObserver(makeRoom).observe($('warnings'));
window.addEventListener('hashchange', view);
view();
listen(intake.heard, phone.refresh);
