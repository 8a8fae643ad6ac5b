import { CodePage, FilePage, QuantitiesPage, ReferenceIndex } from '../../../site/templates/reference.js';
import type { CodeInfo } from '../../check/codes.js';
import { ALL_KINDS, kindInfo } from '../../quantity/index.js';
import { type Link, paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import { type FieldRow, fieldRows, type JsonSchema } from '../schema-fields.js';
import type { Site } from '../site-context.js';

/** What the format reference is made from. */
export interface ReferenceInput {
  readonly codes: Readonly<Record<string, CodeInfo>>;
  /** One for each kind of file, by its short name: `book`, `system`, `entry`, `power-plan`, `weights-plan`. */
  readonly schemas: readonly { readonly name: string; readonly schema: JsonSchema }[];
}

/** The list of all pages of the reference. */
export interface ReferenceIndexView {
  readonly files: readonly { readonly file: Link; readonly about: string }[];
  readonly codes: readonly {
    readonly code: Link;
    readonly severity: CodeInfo['severity'];
    readonly title: string;
  }[];
  readonly quantities: string;
  readonly kinds: number;
}

/** One kind of file. */
export interface FileView {
  readonly title: string;
  readonly about: string;
  readonly fields: readonly FieldRow[];
  readonly index: string;
}

/** One problem that the checker can find. */
export interface CodeView extends CodeInfo {
  readonly code: string;
  readonly index: string;
}

/** All kinds of quantity with the units that fit. */
export interface QuantitiesView {
  readonly kinds: readonly {
    readonly kind: string;
    readonly title: string;
    readonly about: string;
    readonly siUnit: string;
    readonly units: readonly string[];
  }[];
  readonly index: string;
}

/** Makes the format reference. */
export function referencePages(site: Site, { codes, schemas }: ReferenceInput): Page[] {
  const links = site.nested;
  const index = links.to(paths.reference);
  const files = schemas.map(({ name, schema }) => {
    const title = schema.title ?? name;
    const about = schema.description ?? '';
    const view = (): FileView => ({ title, about, fields: fieldRows(schema), index });
    const path = paths.referenceFile(name);
    return makePage(site, { path, title, section: 'reference', template: FilePage, view });
  });
  const problems = Object.entries(codes).map(([code, info]) => {
    const view = (): CodeView => ({ code, ...info, index });
    const path = paths.referenceCode(code);
    return makePage(site, { path, title: info.title, section: 'reference', template: CodePage, view });
  });
  return [indexPage(site, { codes, schemas }), quantitiesPage(site, index), ...files, ...problems];
}

function indexPage(site: Site, { codes, schemas }: ReferenceInput): Page {
  const links = site.nested;
  const view = (): ReferenceIndexView => ({
    files: schemas.map(({ name, schema }) => ({
      file: { text: schema.title ?? name, href: links.to(paths.referenceFile(name)) },
      about: schema.description ?? '',
    })),
    codes: Object.entries(codes).map(([code, { severity, title }]) => ({
      code: { text: code, href: links.to(paths.referenceCode(code)) },
      severity,
      title,
    })),
    quantities: links.to(paths.quantities),
    kinds: ALL_KINDS.length,
  });
  const title = 'Format reference';
  return makePage(site, {
    path: paths.reference,
    title,
    section: 'reference',
    template: ReferenceIndex,
    view,
  });
}

function quantitiesPage(site: Site, index: string): Page {
  const view = (): QuantitiesView => ({
    kinds: ALL_KINDS.map((kind) => {
      const { title, about, siUnit, units } = kindInfo(kind);
      return { kind, title, about, siUnit, units };
    }),
    index,
  });
  const title = 'Quantities and units';
  return makePage(site, {
    path: paths.quantities,
    title,
    section: 'reference',
    template: QuantitiesPage,
    view,
  });
}
