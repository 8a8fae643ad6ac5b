import type { WriteData } from '../../../src/render/pages/write.js';

export type { WriteData };

/** Set by the script beside the page. */
declare global {
  interface Window {
    ribbandWrite?: WriteData;
  }
}
