// What the page says, to read, to a screen reader, and aloud if wanted.

import { $, el } from './dom.js';

let aloud = localStorage.getItem('aloud') === 'yes';
let last = [];

// say announces politely. A screen reader hears it, everyone can read it. What
// is to be heard besides stands elsewhere on the page for those who read.
export function say(words, besides = '') {
  if (!words) return;
  last = [words, besides];
  const all = [words, besides].filter(Boolean).join(' ');
  for (const said of places()) {
    const shown = said.textContent === all ? words + '\u00a0' : words;
    said.replaceChildren(shown, ...(besides ? [el('span', { class: 'unseen' }, ` ${besides}`)] : []));
  }
  speak(all);
}

// places are where it is said: at the foot of the page, which nobody hears or
// reaches while a dialog is open, and in each open dialog.
const places = () => [$('said'), ...document.querySelectorAll('dialog[open] .heard')];

// speak says aloud what a screen reader hears by other means.
export function speak(words) {
  if (!words || !aloud || !('speechSynthesis' in window)) return;
  speechSynthesis.cancel();
  const utterance = new SpeechSynthesisUtterance(words);
  utterance.lang = 'en';
  speechSynthesis.speak(utterance);
}

export const again = () => {
  for (const said of places()) said.textContent = '';
  requestAnimationFrame(() => say(...last));
};

// alarm speaks the errors and warnings that are shown anew.
function alarm(changes) {
  for (const place of new Set(changes.map((change) => change.target))) {
    if (!place.hidden) speak((place.querySelector('span') || place).textContent);
  }
}

// setUp connects the switch.
export function setUp() {
  const alarms = new MutationObserver(alarm);
  for (const place of document.querySelectorAll('[role=alert], #lost')) alarms.observe(place, { childList: true, attributeFilter: ['hidden'] });
  for (const dialog of document.querySelectorAll('dialog')) {
    const said = el('p', { class: 'heard', role: 'status' });
    dialog.querySelector('h2').after(said);
    dialog.addEventListener('close', () => { said.textContent = ''; });
  }
  const button = $('voice');
  const show = () => {
    button.setAttribute('aria-pressed', aloud);
    button.textContent = aloud ? 'Speak: on' : 'Speak: off';
  };
  button.hidden = !('speechSynthesis' in window);
  button.onclick = () => {
    aloud = !aloud;
    localStorage.setItem('aloud', aloud ? 'yes' : 'no');
    if (!aloud) speechSynthesis.cancel();
    show();
    speak('Speaking is on.');
  };
  show();
}
