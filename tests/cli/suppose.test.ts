import { describe, expect, it } from 'vitest';
import { book, run } from './support.js';

/** `ribband suppose` as somebody at a terminal gets it. */

const suppose = async (...pairs: string[]) => run(['suppose', ...pairs], { cwd: book() });

describe('ribband suppose', () => {
  it('says what was supposed, also where nothing comes of it', async () => {
    const { code, out } = await suppose('house-dc.rest-voltage=12.72 V');
    expect(code).toBe(0);
    expect(out).toMatch(
      /^Supposed\n {2}house-dc\.rest-voltage: 12\.72 V instead of 12\.71 .*V\n\nNothing else changes\.\n$/,
    );
  });

  it('knows a name without its system, and asks which is meant', async () => {
    expect(await suppose('capacity=300 Ah')).toEqual({
      code: 2,
      out: '',
      err: 'ribband: There is no spec or point called `capacity`. Did you mean `house-dc.capacity`?\n',
    });
  });

  it('offers the nearest name for a slip', async () => {
    expect((await suppose('house-dc.capcity=300 Ah')).err).toContain('Did you mean `house-dc.capacity`?');
    expect((await suppose('rigging.tension=3 kN')).err).not.toContain('Did you mean');
  });
});
