import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv } from 'ajv';
import addFormats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { COMMANDS } from '../../src/cli/commands.js';
import { blocksOf } from './readme.js';

/** The workflow files of the README are held to the schemas of those who run them; see schemas/SOURCE.md. */

const [github = '', gitlab = ''] = blocksOf('Publishing')
  .filter(({ language }) => language === 'yaml')
  .map(({ text }) => text);

function errorsOf(schemaFile: string, data: unknown): unknown {
  const schema = JSON.parse(readFileSync(join(import.meta.dirname, 'schemas', schemaFile), 'utf8')) as object;
  const ajv = new Ajv({ strict: false, allErrors: true });
  addFormats.default(ajv);
  ajv.validate(schema, data);
  return ajv.errors ?? [];
}

describe('the workflow files of the README', () => {
  it('are such as their hosts read', () => {
    expect(errorsOf('github-workflow.json', parse(github))).toEqual([]);
    expect(errorsOf('gitlab-ci.json', parse(gitlab))).toEqual([]);
  });

  it('would be found wrong', () => {
    expect(errorsOf('github-workflow.json', { ...parse(github), jobs: { site: { steps: 1 } } })).not.toEqual(
      [],
    );
    expect(errorsOf('gitlab-ci.json', { pages: { script: 1 } })).not.toEqual([]);
  });

  it('call commands with options that they have', () => {
    const calls = [...`${github}${gitlab}`.matchAll(/npx ribband (\w+)(.*)/g)];
    expect(calls.length).toBe(3);
    for (const [, name, rest = ''] of calls) {
      const known = COMMANDS.find((command) => command.name === name)?.options.map((option) => option.name);
      const used = [...rest.matchAll(/ --([a-z-]+)/g)].map(([, option]) => option);
      expect(known).toEqual(expect.arrayContaining(used));
    }
  });
});
