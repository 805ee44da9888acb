// What the page says, to read, to a screen reader, and aloud if wanted.

import { $ } from './dom.js';

let aloud = localStorage.getItem('aloud') === 'yes';
let last = '';

// say announces politely. A screen reader hears it, everyone can read it.
export function say(words) {
  if (!words) return;
  last = words;
  const said = $('said');
  said.textContent = said.textContent === words ? words + '\u00a0' : words;
  speak(words);
}

// speak says aloud what a screen reader hears by other means.
export function speak(words) {
  if (!aloud || !('speechSynthesis' in window)) return;
  speechSynthesis.cancel();
  const utterance = new SpeechSynthesisUtterance(words);
  utterance.lang = 'en';
  speechSynthesis.speak(utterance);
}

export const again = () => { $('said').textContent = ''; requestAnimationFrame(() => say(last)); };

// setUp connects the switch.
export function setUp() {
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
