import { rmSync } from 'node:fs';
import { join } from 'node:path';

/** Takes away what an earlier build has made, so that no file outlives its source and gets into the package. */

rmSync(join(import.meta.dirname, '..', 'dist'), { recursive: true, force: true });
