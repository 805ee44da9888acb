// Takes the secret out of the address and exchanges it for a cookie.

import { sentenceOf } from './dom.js';

const secret = location.hash.slice(1);
history.replaceState(null, '', '/join');

async function join() {
  if (!secret) return 'Scan the code that the bench shows.';
  try {
    const answer = await fetch('/join', { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ secret }) });
    if (answer.ok) return location.replace('/');
    return sentenceOf((await answer.json()).error);
  } catch {
    return 'The bench does not answer. Is this device on the same network?';
  }
}

const words = await join();
if (words) document.getElementById('join').textContent = words;
