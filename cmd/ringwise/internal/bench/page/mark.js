// A body that the reader missed, marked by hand on the photo.

import { $ } from './dom.js';
import { state, photo, learn, whole, ask, complain } from './state.js';
import { point } from './point.js';
import { pick } from './hand.js';

// mark asks for the two ends of a body and has it read there.
export const mark = () => photo() && point({ names: ['One end of the body', 'Other end of the body'], step: 0.005, keep: tell });

async function tell(ends) {
  return whole(async () => {
    try {
      const at = state.photo;
      const told = await ask(`/photos/${at}/parts`, { ends });
      complain('');
      learn(told.photo);
      setTimeout(() => pick(at, told.part, true)); // once pointing is over
      return true;
    } catch (error) {
      complain(error.message);
      return false;
    }
  });
}

export function setUp() {
  $('mark').onclick = mark;
}
