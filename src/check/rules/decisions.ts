import * as m from '../messages.js';
import type { Decision, Entry } from '../model.js';
import type { Problem } from '../problem.js';

/** Decisions: each named once; one that takes another back comes after it, and no two take back the same. */
export function checkDecisions(entries: readonly Entry[]): readonly Problem[] {
  const known = new Set(entries.flatMap((entry) => entry.decisions.map((decision) => decision.id)));
  const made = new Map<string, Decision>();
  const undone = new Map<string, string>();
  const problems: Problem[] = [];
  for (const decision of entries.flatMap((entry) => entry.decisions)) {
    const at = (field: string) => ({ file: decision.place.file, path: [...decision.place.path, field] });
    const first = made.get(decision.id);
    if (first !== undefined)
      problems.push({ ...m.duplicateId('decision', decision.id, first.place.file), at: at('decision') });
    const { undoes } = decision;
    // A decision that nobody makes is told of where names are looked up.
    if (undoes !== null && known.has(undoes)) {
      const why = whyNot(undoes, decision.id, made, undone);
      if (why !== null) problems.push({ ...m.undoesNothing(why), at: at('undoes') });
      undone.set(undoes, decision.id);
    }
    if (first === undefined) made.set(decision.id, decision);
  }
  return problems;
}

function whyNot(
  undoes: string,
  by: string,
  made: ReadonlyMap<string, Decision>,
  undone: ReadonlyMap<string, string>,
): string | null {
  if (undoes === by) return 'This decision takes back itself.';
  if (!made.has(undoes)) return `\`${undoes}\` is not decided yet at this time.`;
  const other = undone.get(undoes);
  return other === undefined ? null : `\`${undoes}\` is taken back already, by \`${other}\`.`;
}
