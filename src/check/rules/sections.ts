import { sameHeading, sectionsIn } from '../../read/headings.js';
import * as m from '../messages.js';
import { nearest } from '../nearest.js';
import type { ParsedFile } from '../parse.js';
import { collector, type Problem } from '../problem.js';

/** The headings that a file names as private. */
export function privateSectionsOf({ data }: ParsedFile): readonly string[] {
  return (data as { readonly 'private-sections'?: readonly string[] } | null)?.['private-sections'] ?? [];
}

/** Headings under `private-sections`: each stands in the prose below. */
export function checkPrivateSections(file: ParsedFile): readonly Problem[] {
  const { problems, report } = collector(file.source.path);
  const there = sectionsIn(file.body).map(({ heading }) => heading);
  for (const [index, heading] of privateSectionsOf(file).entries()) {
    if (there.some((one) => sameHeading(one, heading))) continue;
    report(m.headingMissing(heading, nearest(heading, there)), ['private-sections', index]);
  }
  return problems;
}
