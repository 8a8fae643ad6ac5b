import type { BookFolder, FolderProblem, SourceFile } from '../read/folder.js';
import { quickFrontMatter, quickYaml, splitFences } from '../read/front-matter.js';
import type { SyntaxProblem, Thorough } from '../read/thorough.js';
import { asMeasurement, locateTold, mayTell, TOLD, toldIn } from './inline.js';
import * as m from './messages.js';
import { collector, type PlacedProblem, type Problem, type Report, type Said } from './problem.js';

/**
 * First step of checking: every file by itself. What comes out of it has the shape that the schema gives;
 * whether it means anything together with the other files is not known yet.
 */

/**
 * A file whose front matter fits its schema, or `data: null` where it does not. The data of an entry has under
 * `TOLD` the readings that its prose tells: they are kept with it, so that the prose need not be parsed again.
 */
export interface ParsedFile {
  readonly source: SourceFile;
  readonly data: unknown;
  readonly body: string;
}

export interface Parsed {
  readonly files: readonly ParsedFile[];
  readonly problems: readonly Problem[];
  readonly placed: readonly PlacedProblem[];
}

/** Results of earlier runs for files that have not changed since, by path. */
export interface ParseMemory {
  /** The data of a file that was without problems, or undefined where it is not known. */
  readonly recall: (source: SourceFile) => unknown;
  readonly keep: (source: SourceFile, data: unknown) => void;
}

/**
 * Parses all files of a book and holds each against its schema. Parsers and schemas that only a new or a
 * faulty file needs are loaded only then.
 */
export async function parseFiles(folder: BookFolder, memory: ParseMemory): Promise<Parsed> {
  const files: ParsedFile[] = [];
  const problems: Problem[] = [];
  const placed: PlacedProblem[] = folder.problems.map(folderProblem);
  for (const source of folder.files) {
    const known = memory.recall(source);
    if (known !== undefined) {
      files.push({ source, data: known, body: bodyOf(source) });
      continue;
    }
    const result = await parseOne(source);
    files.push(result.file);
    problems.push(...result.problems);
    placed.push(...result.placed);
    if (result.file.data !== null && result.problems.length === 0) memory.keep(source, result.file.data);
  }
  return { files, problems, placed };
}

interface One {
  readonly file: ParsedFile;
  readonly problems: readonly Problem[];
  readonly placed: readonly PlacedProblem[];
}

async function parseOne(source: SourceFile): Promise<One> {
  const { fitsSchema } = await import('./schema.js');
  const quick = isYaml(source) ? quickYaml(source.text) : quickFrontMatter(source.text);
  const { problems, report } = collector(source.path);
  if (quick !== null) {
    const body = 'body' in quick ? (quick.body as string) : '';
    const fits = fitsSchema(source.role, quick.data ?? NOTHING, report);
    const data = await withTold(source, fits ? quick.data : null, body, report);
    return { file: { source, data, body }, problems, placed: [] };
  }
  const close = await look(source);
  const placed = close.problems.map((problem) => syntaxProblem(source, problem));
  // A file that could be read but says nothing lacks all its fields; one that could not is told of already.
  const unread = close.data === null && placed.length > 0;
  const fits = !unread && fitsSchema(source.role, close.data ?? NOTHING, report);
  const whole = fits && placed.length === 0;
  const data = await withTold(source, whole ? close.data : null, close.body, report);
  return { file: { source, data, body: close.body }, problems, placed };
}

/** Adds what the prose of an entry tells to its data; null where that does not fit, or there is no data. */
async function withTold(source: SourceFile, data: unknown, body: string, report: Report): Promise<unknown> {
  if (source.role !== 'entry' || !mayTell(body)) return data;
  const written = await toldIn(body);
  if (written.length === 0) return data;
  const empty = written.flatMap(({ value }, index) => (value.text.trim() === '' ? [index] : []));
  for (const index of empty) report(m.readingEmpty(), [TOLD, index, 'value']);
  if (empty.length > 0) return null;
  let fits = true;
  const told = written.map((reading, index) =>
    asMeasurement(reading, [TOLD, index], (...said) => {
      fits = false;
      report(...said);
    }),
  );
  const { fitsTold } = await import('./schema.js');
  fits = fitsTold(told, report) && fits;
  return fits && data !== null ? { ...(data as object), [TOLD]: told } : null;
}

const NOTHING: unknown = Object.freeze({});

/** Looks closely at a file, for its faults or for places in it. */
export async function look(source: SourceFile): Promise<Thorough> {
  const { thoroughMarkdown, thoroughYaml } = await import('../read/thorough.js');
  if (isYaml(source)) return thoroughYaml(source.text);
  const close = thoroughMarkdown(source.text);
  const told = source.role === 'entry' ? await toldIn(close.body) : [];
  if (told.length === 0) return close;
  const start = source.text.length - close.body.length;
  return {
    ...close,
    locate: (path, part) =>
      path[0] === TOLD ? locateTold(told, start, path, part) : close.locate(path, part),
  };
}

function isYaml(source: SourceFile): boolean {
  return /\.ya?ml$/.test(source.path);
}

/** The prose of a file that is known to be in order. */
function bodyOf(source: SourceFile): string {
  if (isYaml(source)) return '';
  return splitFences(source.text)?.body ?? '';
}

/** A text that was most likely meant as an entry or a system. */
const ENDING_OF_TEXT = /^((?:entries|systems)\/.+)\.(?:md|markdown|mdown|mdx|txt|text|ya?ml)$/i;

function straySaid(path: string): Said {
  const name = ENDING_OF_TEXT.exec(path)?.[1];
  return name === undefined ? m.strayFile() : m.wrongEnding(`${name.replace(/\.md$/i, '')}.md`);
}

function folderProblem(problem: FolderProblem): PlacedProblem {
  const said: Record<FolderProblem['why'], () => Said> = {
    'not-utf8': m.notUtf8,
    'file-too-large': m.fileTooLarge,
    'link-in-book': m.linkInBook,
    unreadable: m.unreadable,
    'stray-file': () => straySaid(problem.path),
    'book-missing': m.bookMissing,
  };
  return { ...said[problem.why](), file: problem.path, offset: 0, length: 0 };
}

/** What is said of a text that cannot be read, or not in one way only. */
export function syntaxProblem(source: SourceFile, problem: SyntaxProblem): PlacedProblem {
  return { ...sayOf(problem), file: source.path, offset: problem.offset, length: problem.length };
}

function sayOf(problem: SyntaxProblem): Said {
  switch (problem.why) {
    case 'no-front-matter':
      return m.frontMatterMissing();
    case 'front-matter-open':
      return m.frontMatterOpen();
    case 'front-matter-language':
      return m.frontMatterLanguage(problem.language);
    case 'front-matter-too-large':
      return m.frontMatterTooLarge();
    case 'duplicate-key':
      return m.duplicateKey(problem.key);
    case 'alias':
      return m.yamlAlias();
    case 'yaml-tag':
      return m.yamlTag();
    case 'text-cut-off':
      return m.textCutOff();
    case 'too-deep':
      return m.tooDeep();
    case 'yaml-syntax':
      return m.yamlSyntax(problem.slip);
  }
}
