import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { cruise, type ICruiseResult, type IForbiddenRuleType } from 'dependency-cruiser';
import { beforeAll, describe, expect, it } from 'vitest';

/** The flow of the code is one way: read, check, reckon, render, write; no step reaches back. */

const ROOT = join(import.meta.dirname, '..');

/** What each folder may import of ours, besides itself. Types alone may come from the folders in `types`. */
const LAYERS: Readonly<
  Record<string, { readonly from: readonly string[]; readonly types?: readonly string[] }>
> = {
  schemas: { from: [] },
  'src/quantity': { from: [] },
  'src/read': { from: ['schemas'] },
  'src/check': { from: ['schemas', 'src/quantity', 'src/read'] },
  'src/audience': { from: ['schemas', 'src/quantity', 'src/read', 'src/check'] },
  'src/reckon': { from: ['schemas', 'src/quantity', 'src/check'] },
  'src/open': { from: ['src/quantity', 'src/check', 'src/reckon'] },
  'src/find': { from: ['src/quantity'], types: ['src/reckon'] },
  'src/draft': { from: ['src/quantity', 'src/check'], types: ['schemas', 'src/reckon'] },
  'src/take': {
    from: ['schemas', 'src/quantity', 'src/check', 'src/read', 'src/draft'],
    types: ['src/reckon'],
  },
  'src/editor': { from: ['schemas', 'src/quantity', 'src/read', 'src/check', 'src/reckon'] },
  'src/print': { from: [] },
  'src/write': { from: ['src/read'], types: ['src/check', 'src/reckon'] },
  'src/seal': { from: ['schemas', 'src/read', 'src/write'] },
  'src/render': {
    from: [
      'schemas',
      'site/templates',
      'src/quantity',
      'src/read',
      'src/check',
      'src/reckon',
      'src/find',
      'src/open',
      'src/seal',
      'src/write',
    ],
  },
  'site/templates': { from: ['src/quantity', 'src/reckon', 'src/find', 'src/render'], types: ['src/check'] },
  'site/browser': {
    // The form of the writing page is checked by the same code as the command line.
    from: ['src/quantity', 'src/check', 'src/draft', 'src/find', 'src/seal', 'src/render', 'site/templates'],
    types: ['src/reckon'],
  },
};

/** Made by scripts of their own, at development time. */
const SCRIPTS = ['schemas/generate.ts', 'site/bundle.ts'];

const below = (folders: readonly string[]) => folders.map((folder) => `^${folder}/`);
const OURS = ['^schemas/', '^src/', '^site/'];

function rulesFor(folder: string): readonly IForbiddenRuleType[] {
  const { from, types = [] } = LAYERS[folder] ?? { from: [] };
  const source = { path: `^${folder}/`, pathNot: SCRIPTS.map((script) => `^${script}$`) };
  return [
    {
      name: `${folder} reaches too far`,
      severity: 'error',
      from: source,
      to: { path: OURS, pathNot: below([folder, ...from, ...types]) },
    },
    {
      name: `${folder} takes more than types`,
      severity: 'error',
      from: source,
      // `type-only` is what TypeScript leaves nothing of.
      to: { path: below(types.length === 0 ? ['nowhere'] : types), dependencyTypesNot: ['type-only'] },
    },
  ];
}

const BUILTIN = ['core'] as ['core'];

const RULES: readonly IForbiddenRuleType[] = [
  ...Object.keys(LAYERS).flatMap(rulesFor),
  {
    name: 'only the command line imports the command line',
    severity: 'error',
    from: { path: OURS, pathNot: '^src/cli/' },
    to: { path: '^src/cli/' },
  },
  {
    name: 'nothing imports the scripts',
    severity: 'error',
    from: {},
    to: { path: SCRIPTS.map((script) => `^${script}$`) },
  },
  {
    name: 'what only reckons knows no file and no machine',
    severity: 'error',
    from: {
      path: [
        '^schemas/',
        '^src/quantity/',
        '^src/reckon/',
        '^src/find/',
        '^site/browser/',
        '^site/templates/',
      ],
      pathNot: SCRIPTS.map((script) => `^${script}$`),
    },
    to: { dependencyTypes: BUILTIN },
  },
  {
    // Types are gone when the code runs, and a command is loaded when it is called: neither makes a circle.
    name: 'no circles',
    severity: 'error',
    from: {},
    to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only', 'dynamic-import'] } },
  },
];

async function cruised(rules: readonly IForbiddenRuleType[]): Promise<ICruiseResult> {
  const { output } = await cruise(
    ['src', 'schemas', 'site'],
    {
      baseDir: ROOT,
      validate: true,
      ruleSet: { forbidden: [...rules] },
      tsPreCompilationDeps: true,
      doNotFollow: { path: 'node_modules' },
    },
    { extensions: ['.ts', '.tsx', '.js', '.json'], extensionAlias: { '.js': ['.ts', '.tsx', '.js'] } },
  );
  if (typeof output === 'string') throw new Error(output);
  return output;
}

describe('the layers of the code', () => {
  let result: ICruiseResult;
  beforeAll(async () => {
    result = await cruised(RULES);
  });

  it('were looked at: all the modules there are', () => {
    const ours = result.modules.filter(({ source }) => OURS.some((path) => new RegExp(path).test(source)));
    const files = ['src', 'schemas', 'site'].flatMap((folder) => codeBelow(folder));
    const read = new Set(ours.map(({ source }) => source));
    expect(files.filter((file) => !read.has(file))).toEqual([]);
    expect(ours.length).toBeGreaterThan(100);
    // With a compiler it cannot use it reads every file and sees no import in any.
    expect(ours.filter(({ dependencies }) => dependencies.length > 0).length).toBeGreaterThan(100);
  });

  it('are all named here', () => {
    const folders = readdirSync(join(ROOT, 'src'), { withFileTypes: true })
      .filter((one) => one.isDirectory())
      .map(({ name }) => `src/${name}`);
    expect(folders.filter((folder) => folder !== 'src/cli' && LAYERS[folder] === undefined)).toEqual([]);
  });

  it('are kept', () => {
    const broken = result.summary.violations.map(
      ({ rule, from, to, cycle }) =>
        `${rule.name}: ${from} → ${cycle === undefined ? to : cycle.map(({ name }) => name).join(' → ')}`,
    );
    expect(broken).toEqual([]);
  });

  it('would be found broken', async () => {
    const { summary } = await cruised([
      {
        name: 'none may import quantities',
        severity: 'error',
        from: { path: '^src/reckon/' },
        to: { path: '^src/quantity/' },
      },
      {
        name: 'none may import files',
        severity: 'error',
        from: { path: '^src/read/' },
        to: { dependencyTypes: BUILTIN },
      },
    ]);
    expect(new Set(summary.violations.map(({ rule }) => rule.name)).size).toBe(2);
  });
});

/** Source files below a folder, by their path from the top. */
function codeBelow(folder: string): readonly string[] {
  return (readdirSync(join(ROOT, folder), { recursive: true }) as string[])
    .filter((path) => /\.tsx?$/.test(path))
    .map((path) => relative(ROOT, join(ROOT, folder, path)).replaceAll('\\', '/'));
}

/** What would let the result hang on the day, the machine or chance. */
const IMPURE: readonly RegExp[] = [
  /\bDate\.now\b/,
  /\bnew Date\(\s*\)/,
  /\bDate\(\s*\)/,
  /\bperformance\./,
  /\bMath\.random\b/,
  /\bprocess\./,
  /\bTemporal\.Now\b/,
  /['"]node:/,
  /\bglobalThis\b/,
  /\btoLocale[A-Z]\w*\(/,
  /\bIntl\./,
  /\blocaleCompare\(/,
];

describe('what only reckons', () => {
  it.each(['src/quantity', 'src/reckon'])('%s asks no clock, no machine and no chance', (folder) => {
    const files = codeBelow(folder);
    expect(files.length).toBeGreaterThan(10);
    const found = files.flatMap((file) => {
      const text = readFileSync(join(ROOT, file), 'utf8').replaceAll(/\/\*[\s\S]*?\*\/|\/\/.*/g, '');
      return IMPURE.filter((pattern) => pattern.test(text)).map((pattern) => `${file}: ${pattern.source}`);
    });
    expect(found).toEqual([]);
  });

  it('would be found out', () => {
    const texts = [
      'const d = Date.now();',
      'new Date()',
      "import fs from 'node:fs'",
      'process.env.TZ',
      'Math.random()',
    ];
    for (const text of texts)
      expect(
        IMPURE.some((pattern) => pattern.test(text)),
        text,
      ).toBe(true);
    expect(IMPURE.some((pattern) => pattern.test('new Date(Date.UTC(2026, 0, 1)).toISOString()'))).toBe(
      false,
    );
  });
});
