// The bench: photos in, parts confirmed by a person, stock out.

import { $, set, text } from './dom.js';
import { state, onChange, listen } from './state.js';
import * as voice from './voice.js';
import * as sheet from './sheet.js';
import * as hand from './hand.js';
import * as intake from './intake.js';
import * as cabinet from './cabinet.js';
import * as forms from './forms.js';
import * as keys from './keys.js';
import * as phone from './phone.js';
import * as camera from './camera.js';

// view shows the view that the address names: the bench or the bins.
function view() {
  const bins = location.hash === '#bins';
  $('bench').hidden = bins;
  $('bins').hidden = !bins;
  set($('to-bench'), { 'aria-current': bins ? null : 'page' });
  set($('to-bins'), { 'aria-current': bins ? 'page' : null });
  document.title = bins ? 'Bins – Ringwise' : 'Ringwise bench';
}

// session sums up what was done since the program started.
function session() {
  const s = state.bench.session;
  const waiting = s.counts.open || 0;
  const words = [`${s.confirmed} confirmed${s.corrected ? `, ${s.corrected} of them corrected` : ''}`, `${waiting} to go`];
  for (const status of ['skipped', 'not a resistor', "can't tell"]) if (s.counts[status]) words.push(`${s.counts[status]} ${status}`);
  if (s.perMinute) words.push(`${s.perMinute} a minute`);
  text($('session'), `This session: ${words.join(', ')}`);
}

onChange(() => {
  if (!state.bench) return;
  sheet.show();
  hand.show();
  cabinet.list();
  keys.show();
  phone.show();
  camera.show();
  session();
});
voice.setUp();
sheet.setUp(hand.pick);
hand.setUp();
intake.setUp();
cabinet.setUp();
forms.setUp(hand.focusRing);
keys.setUp();
phone.setUp();
window.addEventListener('hashchange', view);
view();
listen(intake.heard, phone.refresh);
