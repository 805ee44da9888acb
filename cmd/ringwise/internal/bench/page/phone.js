// The invitation for a phone: a QR code to scan.

import { $, el, svg, set, text } from './dom.js';
import { state } from './state.js';

export function setUp() {
  $('phone').onclick = () => {
    $('phone-dialog').showModal();
    fill();
  };
}

// refresh shows the new invitation once the old one was used.
export function refresh() {
  if ($('phone-dialog').open) fill();
}

export function show() {
  $('phone').hidden = !state.bench.lan || state.bench.remote;
  $('overheard').hidden = !state.bench.remote;
}

async function fill() {
  const box = $('invitation');
  const answer = await fetch('/invitation');
  const told = await answer.json();
  if (!answer.ok) return text(box, told.error);
  box.replaceChildren(
    el('p', {}, 'Scan this with the phone. It is good for one device; the next one gets a new code. All devices are let go when the bench stops.'),
    drawing(told.rows),
    el('p', { class: 'address' }, told.address),
    el('p', {}, `${told.devices} ${told.devices === 1 ? 'device is' : 'devices are'} in.`),
    el('p', {}, 'The bench talks plain HTTP: whoever shares the network can overhear the photos sent. Use it at home or with people you trust.'));
}

// drawing is a QR code; its quiet zone is part of the rows.
function drawing(rows) {
  const n = rows.length;
  const code = svg('svg', { viewBox: `0 0 ${n} ${n}`, class: 'qr', role: 'img', 'aria-label': 'QR code of the address below' });
  const path = rows.flatMap((row, y) => [...row].map((dark, x) => (dark === '1' ? `M${x} ${y}h1v1h-1z` : ''))).join('');
  const ground = svg('rect', { width: n, height: n, fill: '#fff' });
  const dark = svg('path', { fill: '#000' });
  set(dark, { d: path });
  code.append(ground, dark);
  return code;
}
