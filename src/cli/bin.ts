#!/usr/bin/env node
import { main } from './main.js';
import { realEffects } from './real-effects.js';

// Whoever reads the output may have had enough of it (`| head`): that is no fault.
for (const stream of [process.stdout, process.stderr])
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit();
    throw error;
  });

process.exitCode = await main(process.argv.slice(2), realEffects());
