import type { Claim, Reading } from '../check/model.js';
import { commonCode, printQuantity, type Quantity } from '../quantity/index.js';
import { uncertaintyIn } from '../reckon/export-values.js';
import type { Reckoning, SpecState, Timeline } from '../reckon/model.js';
import { stableId } from './ids.js';

/** A file that the linked data names, with its address. */
export interface Distribution {
  readonly name: string;
  readonly url: string;
  readonly mediaType: string;
}

/**
 * The book as linked data: JSON-LD 1.1 in the words of schema.org. There is no boat among them; the nearest is
 * `Vehicle`, with what is known of it as `additionalProperty`. The last reading of each point is an `Observation`.
 * Units carry their UN/CEFACT code where there is one, and always their sign.
 *
 * @param site the absolute address of the site, where that is known.
 */
export function linkedData(
  reckoning: Reckoning,
  site: string | null,
  files: readonly Distribution[],
): Readonly<Record<string, unknown>> {
  const { book, asOf } = reckoning;
  const { subject } = book;
  const about = { '@id': stableId(book.id, 'subject') };
  const observations = [...reckoning.timelines.values()].flatMap((timeline) =>
    timeline.last === null ? [] : [observation(book.id, about, timeline, timeline.last.reading)],
  );
  const year = /^\d{4}$/.test(subject.built ?? '') ? subject.built : null;
  return {
    '@context': 'https://schema.org',
    '@graph': [
      {
        '@type': 'Dataset',
        '@id': stableId(book.id, 'book'),
        name: `${subject.name}: record`,
        description: `The record of the work on ${subject.name}: what was done, measured, fitted, tested and decided, as of ${asOf}.`,
        ...(site === null ? {} : { url: site }),
        inLanguage: book.language,
        dateModified: asOf,
        about,
        distribution: files.map(({ name, url, mediaType }) => ({
          '@type': 'DataDownload',
          name,
          contentUrl: url,
          encodingFormat: mediaType,
        })),
      },
      {
        '@type': 'Vehicle',
        ...about,
        name: subject.name,
        ...(subject.type === null ? {} : { category: subject.type }),
        ...(subject.about === null ? {} : { description: subject.about.trim() }),
        ...(year === null ? {} : { productionDate: year }),
        additionalProperty: [
          ...subject.particulars.map(({ label, value }) => ({
            '@type': 'PropertyValue',
            name: label,
            ...claimFields(value),
          })),
          ...[...reckoning.specs.values()].map(specProperty),
        ],
      },
      ...observations,
    ],
  };
}

/** A spec: what holds of it, and as what it stands. */
function specProperty({ spec, holds, standing, because }: SpecState): object {
  return {
    '@type': 'PropertyValue',
    propertyID: spec.ref,
    name: spec.title,
    ...claimFields(holds),
    description: because,
    valueReference: { '@type': 'PropertyValue', name: 'standing', value: standing },
  };
}

function observation(book: string, about: object, { point }: Timeline, reading: Reading): object {
  const { quantity, uncertainty, date, basis, entry } = reading;
  const margin = uncertaintyIn(quantity, uncertainty);
  return {
    '@type': 'Observation',
    '@id': stableId(book, `readings/${point.ref}/${entry}`),
    observationAbout: about,
    observationDate: date,
    variableMeasured: { '@type': 'PropertyValue', propertyID: point.ref, name: point.title },
    measurementTechnique: basis,
    ...quantityFields(quantity),
    ...(margin === null
      ? {}
      : {
          marginOfError: { '@type': 'QuantitativeValue', value: margin, ...unitFields(quantity.unit) },
        }),
  };
}

function claimFields(claim: Claim): object {
  return claim.type === 'text' ? { value: claim.text } : quantityFields(claim.quantity);
}

/** A wire gauge is no number of anything: it is given as it is printed. */
function quantityFields(quantity: Quantity): object {
  if (quantity.form === 'gauge') return { value: printQuantity(quantity) };
  return { value: quantity.value, ...unitFields(quantity.unit) };
}

function unitFields(symbol: string): object {
  const code = commonCode(symbol);
  return { ...(code === null ? {} : { unitCode: code }), ...(symbol === '1' ? {} : { unitText: symbol }) };
}
