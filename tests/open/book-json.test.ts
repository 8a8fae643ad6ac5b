import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { JSON_FOLDER } from '../../schemas/generate.js';
import { bookJson } from '../../src/open/book-json.js';
import { exportDocument } from '../../src/reckon/export.js';
import { trendsOf } from '../../src/reckon/trends.js';
import { reckoned } from '../reckon/book.js';
import { demo } from './demo.js';

const schema = JSON.parse(readFileSync(join(JSON_FOLDER, 'export.schema.json'), 'utf8')) as object;
const validate = new Ajv2020({ strict: false, allErrors: true }).compile(schema);

describe('the whole book as JSON', () => {
  it('is, put together from its pieces, the document of the export', async () => {
    const reckoning = await demo();
    const pieces = bookJson(reckoning, () => trendsOf(reckoning));
    expect(pieces.filter(({ year }) => year !== null).length).toBe(6);
    const document: unknown = JSON.parse(pieces.map(({ text }) => text()).join(''));
    expect(validate(document), JSON.stringify(validate.errors?.slice(0, 3))).toBe(true);
    expect(document).toEqual(JSON.parse(JSON.stringify(exportDocument(reckoning, () => null))));
  });

  it('is one of a book without an entry too', async () => {
    const reckoning = await reckoned('2029-01-01');
    const text = bookJson(reckoning, () => trendsOf(reckoning))
      .map((piece) => piece.text())
      .join('');
    expect(validate(JSON.parse(text))).toBe(true);
  });
});
