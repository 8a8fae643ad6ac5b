import { scalarAt, scalarsIn, type WrittenScalar } from '../read/scalars.js';
import type { Stretch } from '../read/thorough.js';
import type { Reckoning } from '../reckon/model.js';
import type { Card } from './card.js';
import { cardOf, fieldCard } from './cards.js';
import { keysIn } from './keys.js';
import { type DeclaredRefs, mentionAt, mentionsIn, type NamedFile } from './mentions.js';
import { schemasAt } from './schema-at.js';

/** What is told of a place: some cards, and the stretch of text that they are about. */
export interface Told extends Stretch {
  readonly cards: readonly Card[];
}

/** What can be told of a place in a file: of the thing named there, of the field, or of both; null for neither. */
export async function tellOf(
  file: NamedFile,
  offset: number,
  known: Reckoning | null,
  declared: DeclaredRefs,
): Promise<Told | null> {
  const mention = mentionAt(await mentionsIn(file, declared), offset);
  const card = mention === null || known === null ? null : cardOf(mention.space, mention.name, known);
  if (mention !== null && card !== null)
    return { offset: mention.offset, length: mention.length, cards: [card] };
  const scalars = scalarsIn(file.text, file.path.endsWith('.yaml'));
  const here = scalarAt(scalars, offset);
  const field = here === null ? null : fieldOf(file, here, scalars);
  return here === null || field === null
    ? null
    : { offset: here.offset, length: here.length, cards: [field] };
}

/** The field to which a key or a value belongs: an item of a list belongs to the list. */
function fieldOf({ role }: NamedFile, here: WrittenScalar, scalars: readonly WrittenScalar[]): Card | null {
  const lastKey = here.path.findLastIndex((step) => typeof step === 'string');
  for (let length = here.path.length; length > lastKey; length -= 1) {
    for (const schema of schemasAt(role, here.path.slice(0, length), (path) => keysIn(scalars, path))) {
      const card = fieldCard(String(here.path[lastKey]), schema);
      if (card !== null) return card;
    }
  }
  return null;
}
