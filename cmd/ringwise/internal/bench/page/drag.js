// Rings are moved on the strip with the mouse or a finger.

import { $ } from './dom.js';
import { state, part } from './state.js';
import { walk, moveRing, showGuide } from './hand.js';

const near = 30; // how far from a ring it may still be grasped, in pixels

export function setUp() {
  const stage = document.querySelector('.stage');
  let grasped = null; // the ring that is dragged, and from where

  // along is the place of the pointer on the body, as a fraction of its length.
  const along = (e) => {
    const { left, width } = stage.getBoundingClientRect();
    const m = state.bench.margin;
    return { place: ((e.clientX - left) / width) * (1 + 2 * m) - m, scale: (1 + 2 * m) / width };
  };
  stage.addEventListener('dragstart', (e) => e.preventDefault()); // the picture stays
  stage.addEventListener('pointerdown', (e) => {
    const p = part();
    if (e.button !== 0 || !p?.rings.length || p.status === 'stocked') return;
    const { place, scale } = along(e);
    const away = p.rings.map((r) => Math.abs(r.centre - place) - r.width / 2);
    const ring = away.indexOf(Math.min(...away));
    if (away[ring] > near * scale) return;
    e.preventDefault();
    stage.setPointerCapture(e.pointerId);
    walk(ring);
    grasped = { ring, place, version: p.version };
  });
  const by = (e) => along(e).place - grasped.place;
  stage.addEventListener('pointermove', (e) => {
    const ring = grasped && part()?.rings[grasped.ring];
    if (!ring) return;
    stage.classList.add('dragging');
    showGuide(ring.centre + by(e));
  });
  stage.addEventListener('pointerup', (e) => {
    stage.classList.remove('dragging');
    if (!grasped) return;
    const { ring, version } = grasped;
    const far = by(e);
    const p = part();
    grasped = null;
    if (p?.version === version && Math.abs(far) >= 3 * along(e).scale) moveRing(ring, far);
    else showGuide(p?.rings[state.ring]?.centre);
  });
  stage.addEventListener('pointercancel', () => {
    grasped = null;
    stage.classList.remove('dragging');
    showGuide(part()?.rings[state.ring]?.centre);
  });
}
