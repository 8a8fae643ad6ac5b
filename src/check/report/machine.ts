import { ALL_CODES, CODES } from '../codes.js';
import type { Diagnostic, Span } from '../diagnostic.js';

/** Problems for other programs: plain JSON, SARIF 2.1.0, and the annotations that code hosts read. */

/** @returns one JSON document, with a version so that readers can tell when its shape changes. */
export function reportJson(diagnostics: readonly Diagnostic[]): string {
  return `${JSON.stringify({ version: 1, diagnostics }, null, 2)}\n`;
}

const SARIF_SCHEMA =
  'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json';

/**
 * SARIF 2.1.0 (OASIS standard, errata 01). Columns count UTF-16 units, as the document says of itself.
 *
 * @param version version of the tool.
 */
export function reportSarif(diagnostics: readonly Diagnostic[], version: string): string {
  const used = ALL_CODES.filter((code) => diagnostics.some((diagnostic) => diagnostic.code === code));
  const document = {
    $schema: SARIF_SCHEMA,
    version: '2.1.0',
    runs: [
      {
        tool: {
          driver: {
            name: 'ribband',
            version,
            rules: used.map((code) => ({
              id: code,
              shortDescription: { text: CODES[code].title },
              fullDescription: { text: `${CODES[code].what} ${CODES[code].why}` },
              help: { text: CODES[code].mend },
              defaultConfiguration: { level: CODES[code].severity },
            })),
          },
        },
        columnKind: 'utf16CodeUnits',
        results: diagnostics.map((diagnostic) => sarifResult(diagnostic, used.indexOf(diagnostic.code))),
      },
    ],
  };
  return `${JSON.stringify(document, null, 2)}\n`;
}

function sarifResult(diagnostic: Diagnostic, ruleIndex: number) {
  const { span, fix } = diagnostic;
  const artifactLocation = { uri: uriOf(diagnostic.file) };
  const region = regionOf(span);
  const fixes =
    // A new name for a file is nothing that SARIF can say.
    fix === null || fix.edits.length === 0
      ? {}
      : {
          fixes: [{ description: { text: fix.title }, artifactChanges: sarifChanges(fix.edits) }],
        };
  return {
    ruleId: diagnostic.code,
    ruleIndex,
    level: diagnostic.severity,
    message: {
      text: diagnostic.hint === null ? diagnostic.message : `${diagnostic.message} ${diagnostic.hint}`,
    },
    locations: [{ physicalLocation: { artifactLocation, region, ...contextOf(diagnostic) } }],
    ...fixes,
  };
}

function sarifChanges(edits: NonNullable<Diagnostic['fix']>['edits']) {
  return edits.map(({ file, offset, length, text }) => ({
    artifactLocation: { uri: uriOf(file) },
    // What a mend takes the place of need not be what is marked.
    replacements: [{ deletedRegion: { charOffset: offset, charLength: length }, insertedContent: { text } }],
  }));
}

/** A path as a relative address: a `#` or `?` in a file's name would else end it. */
function uriOf(file: string): string {
  return file.split('/').map(encodeURIComponent).join('/');
}

function regionOf({ line, column, endLine, endColumn }: Span) {
  return { startLine: line, startColumn: column, endLine, endColumn };
}

/** The line around what is marked; the standard wants it larger than the mark itself, or not there. */
function contextOf({ span, excerpt }: Diagnostic) {
  if (span.line !== span.endLine || span.length >= excerpt.length) return {};
  return { contextRegion: { startLine: span.line, endLine: span.line, snippet: { text: excerpt } } };
}

/** Workflow commands, one a line, that code hosts turn into marks beside the changed line. */
export function reportAnnotations(diagnostics: readonly Diagnostic[]): string {
  return diagnostics.map(annotation).join('');
}

function annotation({ severity, file, span, code, message, hint }: Diagnostic): string {
  // Columns are only understood where the mark is in one line.
  const columns = span.line === span.endLine ? `,col=${span.column},endColumn=${span.endColumn}` : '';
  const place = `file=${property(file)},line=${span.line},endLine=${span.endLine}${columns}`;
  return `::${severity} ${place},title=${property(code)}::${data(hint === null ? message : `${message} ${hint}`)}\n`;
}

function data(text: string): string {
  return text.replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A');
}

function property(text: string): string {
  return data(text).replaceAll(':', '%3A').replaceAll(',', '%2C');
}
