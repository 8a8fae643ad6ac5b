import { describe, expect, it } from 'vitest';
import { placed, type Spot } from '../../site/templates/chart-labels.js';

const FRAME = { left: 0, right: 300, top: 0, bottom: 100 };
const LEFT: Spot = { x: 0, y: 50, anchor: 'start' };
const RIGHT: Spot = { x: 300, y: 50, anchor: 'end' };

describe('words in a drawing', () => {
  it('stand where they are liked best, unless they hide a reading there', () => {
    const wanted = [{ words: 'at most 20', spots: [LEFT, RIGHT] as const }];
    expect(placed(wanted, [], FRAME)).toEqual([LEFT]);
    expect(placed(wanted, [{ left: 5, right: 15, top: 40, bottom: 55 }], FRAME)).toEqual([RIGHT]);
  });

  it('keep apart from each other and inside the frame', () => {
    const one = { words: 'at most 20', spots: [LEFT, RIGHT] as const };
    expect(placed([one, one], [], FRAME)).toEqual([LEFT, RIGHT]);
    const outside: Spot = { x: 0, y: 5, anchor: 'start' };
    const hiding = [{ left: 0, right: 300, top: 40, bottom: 55 }];
    expect(placed([{ words: 'at most 20', spots: [outside, RIGHT] }], hiding, FRAME)).toEqual([RIGHT]);
  });
});
