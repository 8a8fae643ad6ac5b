#!/usr/bin/env node
import { setFlagsFromString } from 'node:v8';
import { main } from './main.js';
import { realEffects } from './real-effects.js';
import { EXIT, fileSystemRefusal, sayRefusal } from './refusal.js';

// Whoever reads the output may have had enough of it (`| head`): that is no fault. A file that it goes to may lie on a
// disk that is full.
for (const stream of [process.stdout, process.stderr])
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit();
    const refusal = fileSystemRefusal(error, 'write what was asked for');
    if (refusal === null || stream === process.stderr) throw error;
    process.stderr.write(`ribband: ${sayRefusal(refusal)}\n`);
    process.exit(EXIT.wrongUse);
  });

// Left to itself the heap grows to four times of what is in use before it is cleared up, which for the site of
// a large book is far more than a small machine has.
setFlagsFromString('--heap-growing-percent=70');

process.exitCode = await main(process.argv.slice(2), realEffects());
