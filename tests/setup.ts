import fc from 'fast-check';
import { afterAll } from 'vitest';
import { removeFolders } from './folders.js';

/** What is done around every file of tests, which share their modules. */

/** Random values are the same on every machine, so that a change that breaks nothing fails nowhere; SEED asks for others. */
fc.configureGlobal({ seed: Number(process.env['SEED'] ?? 1968) });

afterAll(removeFolders);
