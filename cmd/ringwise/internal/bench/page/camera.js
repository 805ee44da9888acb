// The live view of a fixed camera, fetched as fast as it arrives.

import { $, text } from './dom.js';
import { state } from './state.js';

let running = false;

export function show() {
  const camera = state.bench.camera;
  $('live').hidden = !camera;
  if (!camera) return;
  text($('live-words'), camera.words);
  if (running || camera.ended) return;
  running = true;
  const view = $('live-view');
  let n = 0;
  const next = () => {
    if (document.hidden || state.bench.camera.ended) {
      running = false;
      return;
    }
    n += 1;
    view.src = `/camera?${n}`;
  };
  view.onload = () => setTimeout(next, 250);
  view.onerror = () => setTimeout(next, 2000);
  next();
}

document.addEventListener('visibilitychange', () => state.bench && show());
