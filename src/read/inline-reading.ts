import type { PhrasingContent } from 'mdast';
import type { CompileContext, Extension as FromMarkdown, Handle } from 'mdast-util-from-markdown';
import { directive } from 'micromark-extension-directive';
import type { Code, Construct, Extension, State, TokenizeContext } from 'micromark-util-types';

/**
 * A reading told in the prose, in the generic form of a text directive: `:reading[318 ± 6 Ah]{point="a.b"}`.
 * Only that name is taken; whatever else looks like a directive (`at 12:pm`, `:note[…]`) stays the text it is.
 */

/** How it begins; a body without this has none. */
export const MARK = ':reading[';

/** A stretch of the prose, in UTF-16 units from its beginning. */
interface Piece {
  readonly text: string;
  readonly offset: number;
}

/** An attribute as written; `.class` and `#id` keep their sign in the name. */
export interface WrittenAttribute {
  readonly name: Piece;
  readonly value: Piece;
}

/** A directive as written. */
export interface WrittenReading {
  /** Where it begins, in UTF-16 units from the beginning of the prose. */
  readonly offset: number;
  /** What stands between the brackets. */
  readonly value: Piece;
  readonly attributes: readonly WrittenAttribute[];
}

/** The node of such a reading in a tree of Markdown. */
export interface InlineReadingNode {
  type: 'inlineReading';
  written: WrittenReading;
  children: PhrasingContent[];
  data?: { hName?: string; hProperties?: Record<string, string> };
}

declare module 'mdast' {
  interface PhrasingContentMap {
    inlineReading: InlineReadingNode;
  }
  interface RootContentMap {
    inlineReading: InlineReadingNode;
  }
}

/** Looks whether the mark follows, and takes nothing. */
const lookAhead: Construct = {
  partial: true,
  tokenize(effects, ok, nok) {
    let at = 0;
    const step: State = (code: Code) => {
      if (at === MARK.length) {
        effects.exit('data');
        return ok(code);
      }
      if (code !== MARK.charCodeAt(at)) return nok(code);
      at += 1;
      effects.consume(code);
      return step;
    };
    return (code) => {
      effects.enter('data');
      return step(code);
    };
  },
};

/** The syntax for the parser: text directives that begin with the mark. */
export function inlineReadingSyntax(): Extension {
  const colon = ':'.charCodeAt(0);
  const all = [directive().text?.[colon]].flat();
  const text = all.find((construct): construct is Construct => construct !== undefined);
  if (text === undefined) throw new Error('the parser knows no text directives');
  const reading: Construct = {
    ...text,
    tokenize(this: TokenizeContext, effects, ok, nok) {
      return effects.check(lookAhead, text.tokenize.call(this, effects, ok, nok), nok);
    },
  };
  return { text: { [colon]: reading } };
}

interface Draft {
  readonly offset: number;
  value: Piece;
  attributes: { name: Piece; value: Piece }[];
}

/** Makes nodes of what the syntax finds. */
export function inlineReadingFromMarkdown(): FromMarkdown {
  const enterReading: Handle = function (token) {
    const { offset } = token.start;
    const written: Draft = { offset, value: { text: '', offset }, attributes: [] };
    this.enter({ type: 'inlineReading', written, children: [] }, token);
  };
  const exitReading: Handle = function (token) {
    this.exit(token);
  };
  const piece = (context: CompileContext, token: Parameters<Handle>[0]): Piece => ({
    text: context.sliceSerialize(token),
    offset: token.start.offset,
  });
  const draftOf = (context: CompileContext): Draft | null => {
    const node = context.stack.findLast((one) => one.type === 'inlineReading');
    return node?.type === 'inlineReading' ? (node.written as Draft) : null;
  };
  const addAttribute: Handle = function (token) {
    const name = piece(this, token);
    const nothing = { text: '', offset: token.end.offset };
    draftOf(this)?.attributes.push({ name, value: nothing });
  };
  return {
    canContainEols: ['inlineReading'],
    enter: {
      directiveText: enterReading,
      directiveTextLabel() {
        // What is inside is a value, and kept as it stands.
        this.buffer();
      },
      directiveTextLabelString(token) {
        const draft = draftOf(this);
        if (draft !== null) draft.value = piece(this, token);
      },
      directiveTextAttributeName: addAttribute,
      directiveTextAttributeId: addAttribute,
      directiveTextAttributeClass: addAttribute,
      directiveTextAttributeValue(token) {
        const last = draftOf(this)?.attributes.at(-1);
        if (last !== undefined) last.value = piece(this, token);
      },
    },
    exit: {
      directiveTextLabel() {
        this.resume();
      },
      directiveText: exitReading,
    },
  };
}
