import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import AjvDraft04 from 'ajv-draft-04';
import addFormats from 'ajv-formats';
import { describe, expect, it } from 'vitest';
import type { Diagnostic } from '../../src/check/diagnostic.js';
import { reportSarif } from '../../src/check/report/machine.js';
import { checkWith, parseFixture } from '../check/fixtures.js';

/**
 * Reports in SARIF against the published schema: OASIS Standard, Static Analysis Results Interchange Format
 * (SARIF) Version 2.1.0 plus Errata 01, `sarif-schema-2.1.0.json`, kept beside this file under `data/` as
 * published at https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/.
 */
const schema = JSON.parse(
  readFileSync(join(import.meta.dirname, 'data/sarif-schema-2.1.0.json'), 'utf8'),
) as object;
const ajv = new AjvDraft04.default({ strict: false, allErrors: true });
addFormats.default(ajv);
const validate = ajv.compile(schema);

interface Sarif {
  readonly runs: readonly {
    readonly tool: { readonly driver: { readonly rules: readonly { readonly id: string }[] } };
    readonly results: readonly {
      readonly ruleId: string;
      readonly ruleIndex: number;
      readonly locations: readonly {
        readonly physicalLocation: {
          readonly artifactLocation: { readonly uri: string };
          readonly region: unknown;
          readonly contextRegion?: unknown;
        };
      }[];
      readonly fixes?: readonly unknown[];
    }[];
  }[];
}

const FOLDER = join(import.meta.dirname, '../check/codes');

async function everyProblem(): Promise<readonly Diagnostic[]> {
  const found: Diagnostic[] = [];
  for (const name of readdirSync(FOLDER)) {
    const [first] = parseFixture(readFileSync(join(FOLDER, name), 'utf8'));
    if (first !== undefined) found.push(...(await checkWith(first.files)).checked.diagnostics);
  }
  return found;
}

describe('reports in SARIF 2.1.0', () => {
  it('fit the published schema, with every problem there is in them', async () => {
    const diagnostics = await everyProblem();
    expect(diagnostics.length).toBeGreaterThan(70);
    const sarif = JSON.parse(reportSarif(diagnostics, '0.1.0')) as Sarif;
    expect(validate(sarif), ajv.errorsText(validate.errors)).toBe(true);
    const [run] = sarif.runs;
    expect(run?.results).toHaveLength(diagnostics.length);
    for (const { ruleId, ruleIndex } of run?.results ?? [])
      expect(run?.tool.driver.rules[ruleIndex]?.id).toBe(ruleId);
    expect(run?.results.filter((result) => result.fixes !== undefined).length).toBeGreaterThan(0);
  });

  it('fit it without a problem in them', () => {
    expect(validate(JSON.parse(reportSarif([], '0.1.0'))), ajv.errorsText(validate.errors)).toBe(true);
  });

  it('are refused by the schema once something is wrong in them', () => {
    const sarif = JSON.parse(reportSarif([], '0.1.0')) as object;
    expect(validate({ ...sarif, version: '2.0.0' })).toBe(false);
  });

  it('name files by addresses that lead to them, and mark inside a larger context', () => {
    const diagnostic: Diagnostic = {
      code: 'unknown-key',
      severity: 'error',
      file: 'entries/Bänk #2?.md',
      span: { offset: 4, length: 4, line: 2, column: 1, endLine: 2, endColumn: 5 },
      excerpt: 'wind: north',
      message: 'A message.',
      hint: 'A hint.',
      fix: null,
    };
    const sarif = JSON.parse(reportSarif([diagnostic], '0.1.0')) as Sarif;
    expect(validate(sarif), ajv.errorsText(validate.errors)).toBe(true);
    const place = sarif.runs[0]?.results[0]?.locations[0]?.physicalLocation;
    expect(decodeURI(new URL(place?.artifactLocation.uri ?? '', 'file:///book/').pathname)).toBe(
      '/book/entries/Bänk %232%3F.md',
    );
    expect(place?.region).toEqual({ startLine: 2, startColumn: 1, endLine: 2, endColumn: 5 });
    expect(place?.contextRegion).toEqual({ startLine: 2, endLine: 2, snippet: { text: 'wind: north' } });
  });
});
