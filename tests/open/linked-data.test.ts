import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import jsonld from 'jsonld';
import { beforeAll, describe, expect, it } from 'vitest';
import { linkedData } from '../../src/open/linked-data.js';
import type { Reckoning } from '../../src/reckon/model.js';
import { demo } from './demo.js';

/**
 * Linked data read by a processor of JSON-LD that is not ours, without a network; and its words against the
 * vocabulary of schema.org as `schema-dts` has it in types.
 */

interface Node {
  readonly '@type': string;
  readonly [property: string]: unknown;
}

const SCHEMA = 'https://schema.org/';
// The processor is given this for the context that lies at schema.org: all names are of that vocabulary.
const CONTEXT = { '@context': { '@vocab': SCHEMA, contentUrl: { '@type': '@id' }, url: { '@type': '@id' } } };

let reckoning: Reckoning;
let document: { readonly '@graph': readonly Node[] };

beforeAll(async () => {
  reckoning = await demo();
  const files = [{ name: 'readings.csv', url: 'readings.csv', mediaType: 'text/csv' }];
  document = linkedData(reckoning, 'https://example.org/marram/', files) as unknown as typeof document;
});

describe('the linked data of the demo book', () => {
  it('expands without a network, and loses nothing', async () => {
    const expanded = await jsonld.expand(document, {
      base: 'https://example.org/marram/open/book.jsonld',
      documentLoader: (url: string) => {
        if (url !== 'https://schema.org') return Promise.reject(new Error(`asked for ${url}`));
        return Promise.resolve({ contextUrl: undefined, documentUrl: url, document: CONTEXT });
      },
    });
    expect(expanded.length).toBe(document['@graph'].length);
    const of = (type: string) => expanded.filter((node) => (node['@type'] as string[])[0] === SCHEMA + type);
    const [boat] = of('Vehicle');
    expect(boat?.[`${SCHEMA}additionalProperty`]).toHaveLength(
      reckoning.specs.size + reckoning.book.subject.particulars.length,
    );
    const read = [...reckoning.timelines.values()].filter(({ last }) => last !== null).length;
    expect(of('Observation').length).toBe(read);
    const [dataset] = of('Dataset');
    expect(JSON.stringify(dataset)).toContain('https://example.org/marram/open/readings.csv');
    expect(dataset?.[`${SCHEMA}about`]).toEqual([{ '@id': boat?.['@id'] }]);
    expect(new Set(expanded.map((node) => node['@id'])).size).toBe(expanded.length);
  });

  it('uses no word that schema.org does not have for it', () => {
    const unknown: string[] = [];
    for (const node of nodesIn(document['@graph']))
      for (const property of Object.keys(node))
        if (!property.startsWith('@') && !propertiesOf(node['@type']).has(property))
          unknown.push(`${node['@type']}.${property}`);
    expect([...new Set(unknown)]).toEqual([]);
    expect(propertiesOf('Vehicle').has('homePort')).toBe(false);
  });

  it('gives values as numbers with the code of their unit, and how a spec stands', () => {
    const boat = document['@graph'].find((node) => node['@type'] === 'Vehicle');
    const properties = boat?.['additionalProperty'] as readonly Node[];
    expect(properties).toContainEqual({
      '@type': 'PropertyValue',
      name: 'length overall',
      value: 11.2,
      unitCode: 'MTR',
      unitText: 'm',
    });
    const capacity = properties.find((property) => property['propertyID'] === 'house-dc.bank-capacity');
    expect(capacity).toMatchObject({
      unitCode: 'AMH',
      valueReference: { name: 'standing', value: reckoning.specs.get('house-dc.bank-capacity')?.standing },
    });
  });
});

function nodesIn(value: unknown): readonly Node[] {
  if (Array.isArray(value)) return value.flatMap(nodesIn);
  if (typeof value !== 'object' || value === null) return [];
  const below = Object.values(value).flatMap(nodesIn);
  return '@type' in value ? [value as Node, ...below] : below;
}

const types = readFileSync(
  join(dirname(createRequire(import.meta.url).resolve('schema-dts/package.json')), 'dist/schema.d.ts'),
  'utf8',
);

/** Properties of a type, its own and those of all types above it. */
const known = new Map<string, ReadonlySet<string>>();

function propertiesOf(type: string): ReadonlySet<string> {
  const before = known.get(type);
  if (before !== undefined) return before;
  const found = new Set<string>();
  const open = [`${type}Base`];
  for (let name = open.pop(); name !== undefined; name = open.pop()) {
    const [, above = '', body = ''] =
      new RegExp(`^interface ${name} extends ([^{]*)\\{([\\s\\S]*?)^\\}`, 'm').exec(types) ?? [];
    for (const [, property = ''] of body.matchAll(/^\s*"(\w+)"\??:/gm)) found.add(property);
    open.push(
      ...above
        .split(',')
        .map((one) => one.replace(/^.*\.|<.*$/g, '').trim())
        .filter((one) => one.endsWith('Base')),
    );
  }
  known.set(type, found);
  return found;
}
