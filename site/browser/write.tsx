import { render, type VNode } from 'preact';
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import { nameFor } from '../../src/check/rules/dates.js';
import { entryText } from '../../src/draft/entry-text.js';
import { lacking, type Remarks, remarksOn } from './write/checks.js';
import type { WriteData } from './write/data.js';
import { focusOnceShown, textOf } from './write/fields.js';
import { chosen, draftOf, type Form, isEmpty, readForm } from './write/form.js';
import { forgetForm, forgetPicture, keepForm, keptForm, onKeptElsewhere } from './write/keep.js';
import { Photos, pictureOf } from './write/photos.js';
import { Decisions } from './write/resting.js';
import type { SectionProps, Taking } from './write/rows.js';
import {
  Head,
  Hours,
  Meters,
  Opens,
  Parts,
  Prose,
  Readings,
  Systems,
  Tests,
  Ticks,
} from './write/sections.js';
import {
  baseName,
  download,
  keepWord,
  type Picture,
  sendEntry,
  serverAddress,
  shareable,
  wordOfServer,
} from './write/send.js';

/**
 * The writing page: an entry is filled in, checked as it is typed, kept in the browser at every change, and ends
 * in the book (where a server takes it) or as a file. Nothing is loaded or sent before somebody saves.
 */

/** The day where the reader is. */
function today(): string {
  const now = new Date();
  const two = (number: number) => String(number).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** The form that is kept, or an empty one. */
function formKept(subject: string): Form {
  const form = readForm(keptForm(subject), today());
  if (form.sentAs !== '') return form;
  return { ...form, sentAs: crypto.getRandomValues(new Uint32Array(3)).join('-') };
}

/** Where the entry has come to. */
type Outcome =
  | { readonly is: 'writing' }
  | { readonly is: 'sending' }
  | { readonly is: 'refused' }
  | { readonly is: 'told'; readonly words: string }
  | { readonly is: 'handed'; readonly words: string; readonly pictures: readonly Picture[] }
  | { readonly is: 'written'; readonly path: string; readonly page: string };

function Write({ data }: { data: WriteData }): VNode {
  const { facts } = data;
  const { subject } = facts;
  const [form, setForm] = useState<Form>(() => formKept(subject));
  const [isKept, setKept] = useState(true);
  const [isTried, setTried] = useState(false);
  const [outcome, setOutcome] = useState<Outcome>({ is: 'writing' });
  const [fromServer, setFromServer] = useState<Remarks>(new Map());
  const [taken, setTaken] = useState<Taking | null>(null);
  const [word, setWord] = useState(wordOfServer);
  const address = useMemo(serverAddress, []);

  // At once, not after the next painting: whoever leaves has lost no letter.
  useLayoutEffect(() => {
    if (isEmpty(form)) forgetForm(subject);
    else if (!keepForm(subject, form)) setKept(false);
  }, [form, subject]);

  useEffect(
    () =>
      onKeptElsewhere(subject, () => {
        setForm(formKept(subject));
        setTaken(null);
        setFromServer(new Map());
        setOutcome({ is: 'writing' });
      }),
    [subject],
  );

  const live = remarksOn(form, facts, today());
  const missing = isTried ? lacking(form, facts) : new Map();
  const remarks = merged(live, missing, fromServer);
  const change: SectionProps['change'] = (fields) => {
    setForm((before) => ({ ...before, ...(typeof fields === 'function' ? fields(before) : fields) }));
    setFromServer(new Map());
    setOutcome({ is: 'writing' });
  };
  const takeOut: SectionProps['takeOut'] = (taking) => {
    change(taking.out);
    setTaken(taking);
    // The button that was pressed is gone: the keyboard goes on from the one that undoes it.
    focusOnceShown('put-back');
  };
  const props: SectionProps = { form, data, remarks, change, takeOut };

  /** What is to be handed over, or null where something has to be mended first, which is then shown. */
  const finished = async () => {
    setTried(true);
    const all = merged(live, lacking(form, facts));
    if (errorsIn(all) > 0) {
      setOutcome({ is: 'refused' });
      goToFirst();
      return null;
    }
    const { draft, rowAt } = draftOf(form, facts);
    const pictures: Picture[] = [];
    for (const [index, { id }] of form.photos.entries()) {
      const blob = await pictureOf(subject, id);
      const file = draft.photos[index]?.file;
      if (blob !== null && file !== undefined) pictures.push({ file, blob });
    }
    if (pictures.length < form.photos.length) {
      setOutcome({
        is: 'told',
        words: 'A picture was not kept by this browser: take it out, or take it again.',
      });
      return null;
    }
    const text = entryText(draft, { modeline: data.modeline, facts });
    return { draft, rowAt, pictures, text, name: baseName(nameFor(draft.date, draft.title)) };
  };

  const isSaving = useRef(false);
  // Cold hands tap twice before the first tap shows anything.
  const save = async () => {
    if (isSaving.current) return;
    isSaving.current = true;
    try {
      await saveOnce();
    } finally {
      isSaving.current = false;
    }
  };

  const saveOnce = async () => {
    const done = await finished();
    if (done === null || address === null) return;
    setOutcome({ is: 'sending' });
    const sent = await sendEntry(address, word, form.sentAs, done.draft, done.pictures);
    if (sent.is === 'written') {
      startAnew(form, subject);
      setForm(formKept(subject));
      setTaken(null);
      setTried(false);
      setOutcome(sent);
    } else if (sent.is === 'refused') {
      setFromServer(byRow(sent.problems, done.rowAt));
      setOutcome({ is: 'refused' });
      goToFirst();
    } else if (sent.is === 'not-let-in') {
      setWord('');
      keepWord('');
      setOutcome({
        is: 'told',
        words: 'The word is not the one that the terminal shows now: type it above.',
      });
      focusOnceShown('word');
    } else setOutcome({ is: 'told', words: sent.why });
  };

  const toFile = async () => {
    const done = await finished();
    if (done === null) return;
    download(done.name, new Blob([done.text], { type: 'text/markdown' }));
    const folder = `entries/${done.draft.date.slice(0, 4)}`;
    setOutcome({
      is: 'handed',
      words: `${done.name} belongs into ${folder} of the book.`,
      pictures: done.pictures,
    });
  };

  const share = async () => {
    const done = await finished();
    const files = done === null ? null : shareable(done.name, done.text, done.pictures);
    if (done === null) return;
    if (files === null)
      return setOutcome({ is: 'told', words: 'This browser cannot hand these files on; take the file.' });
    // Somebody who changes their mind has done nothing wrong.
    await navigator.share(files).catch(() => undefined);
  };

  return (
    <div class="write">
      {address === null ? null : <Word word={word} setWord={setWord} />}
      <Head {...props} />
      <Systems {...props} />
      {chosen(form, facts).length === 0 ? null : (
        <>
          <Readings {...props} />
          <Meters {...props} />
          <Tests {...props} />
          <Ticks {...props} />
          <Parts {...props} />
          <Decisions {...props} />
          <Opens {...props} />
        </>
      )}
      <Hours {...props} />
      <Prose {...props} />
      <Photos {...props} onUnkept={() => setKept(false)} />
      <Bar
        outcome={outcome}
        errors={errorsIn(remarks)}
        isKept={isKept}
        general={remarks.get('') ?? []}
        isBegun={!isEmpty(form)}
        taken={taken}
        onPutBack={(taking) => {
          change(taking.back);
          setTaken(null);
        }}
        onSave={address === null ? null : save}
        onFile={toFile}
        onShare={typeof navigator.share === 'function' ? share : null}
        onClear={() => {
          startAnew(form, subject);
          setForm(formKept(subject));
          setTaken(null);
          setTried(false);
          setFromServer(new Map());
          setOutcome({ is: 'writing' });
        }}
      />
    </div>
  );
}

function startAnew(form: Form, subject: string): void {
  forgetForm(subject);
  for (const { id } of form.photos) void forgetPicture(subject, id);
}

function merged(...all: readonly Remarks[]): Remarks {
  const found = new Map<string, Remarks extends ReadonlyMap<string, infer R> ? R : never>();
  for (const remarks of all)
    for (const [row, said] of remarks) found.set(row, [...(found.get(row) ?? []), ...said]);
  return found;
}

function errorsIn(remarks: Remarks): number {
  return [...remarks.values()].flat().filter(({ severity }) => severity === 'error').length;
}

/** Problems as the server tells them, by the row of the form they are about; those about none under ''. */
function byRow(
  problems: Extract<Awaited<ReturnType<typeof sendEntry>>, { is: 'refused' }>['problems'],
  rowAt: ReturnType<typeof draftOf>['rowAt'],
): Remarks {
  return merged(
    ...problems.map(({ answer, ...remark }) => {
      const own =
        answer === null
          ? null
          : (rowAt(answer) ?? (answer[0] === 'title' || answer[0] === 'date' ? answer[0] : null));
      return new Map([[own ?? '', [remark]]]);
    }),
  );
}

/** Brings the first thing that has to be mended into view, once it is shown. */
function goToFirst(): void {
  requestAnimationFrame(() =>
    requestAnimationFrame(() => {
      const first = document.querySelector<HTMLElement>('.write [aria-invalid="true"], .write .said .error');
      const field = first?.closest<HTMLElement>('.field, .card, .leaf') ?? first;
      field?.scrollIntoView({ block: 'center' });
      (first?.matches('input, select, textarea') === true ? first : null)?.focus({ preventScroll: true });
    }),
  );
}

/** The word that the terminal shows; asked for only where the address did not bring it. */
function Word({ word, setWord }: { word: string; setWord: (word: string) => void }): VNode {
  return (
    <details class="word" open={word === ''}>
      <summary>{word === '' ? 'The word from the terminal' : 'This page may write into the book'}</summary>
      <label for="word">The word that the terminal shows beside the address</label>
      <input
        id="word"
        type="text"
        autocomplete="off"
        autocapitalize="off"
        spellcheck={false}
        value={word}
        onInput={(event) => {
          const typed = textOf(event).trim();
          setWord(typed);
          keepWord(typed);
        }}
      />
    </details>
  );
}

interface BarProps {
  readonly outcome: Outcome;
  readonly errors: number;
  readonly isKept: boolean;
  readonly general: readonly { readonly message: string }[];
  readonly isBegun: boolean;
  /** The row that was taken out last. */
  readonly taken: Taking | null;
  readonly onPutBack: (taking: Taking) => void;
  readonly onSave: (() => Promise<void>) | null;
  readonly onFile: () => Promise<void>;
  readonly onShare: (() => Promise<void>) | null;
  readonly onClear: () => void;
}

/** What there is to do with the entry, always under the thumb. */
function Bar(props: BarProps): VNode {
  const { outcome, onSave, onFile, onShare, isBegun, taken } = props;
  const [isAsked, setAsked] = useState(false);
  return (
    <div class="save-bar">
      <div class="save-bar-said" role="status">
        {props.general.map(({ message }) => (
          <p class="error">{message}</p>
        ))}
        {taken === null ? null : (
          <p>
            “{taken.title}” is taken out.{' '}
            <button type="button" class="link" id="put-back" onClick={() => props.onPutBack(taken)}>
              Put back
            </button>
          </p>
        )}
        <BarWords {...props} />
      </div>
      <div class="save-bar-keys">
        {onSave === null ? null : (
          <button
            type="button"
            class="main"
            disabled={outcome.is === 'sending'}
            onClick={() => void onSave()}
          >
            Save into the book
          </button>
        )}
        <button type="button" class={onSave === null ? 'main' : ''} onClick={() => void onFile()}>
          {onSave === null ? 'Save as a file' : 'As a file'}
        </button>
        {onShare === null ? null : (
          <button type="button" onClick={() => void onShare()}>
            Share
          </button>
        )}
        {!isBegun ? null : (
          <button
            type="button"
            onClick={() => {
              if (isAsked) props.onClear();
              setAsked(!isAsked);
            }}
          >
            {isAsked ? 'Really clear all?' : 'Clear'}
          </button>
        )}
      </div>
    </div>
  );
}

function BarWords({ outcome, errors, isKept, isBegun }: BarProps): VNode {
  switch (outcome.is) {
    case 'sending':
      return <p>Writing …</p>;
    case 'told':
      return <p class="error">{outcome.words}</p>;
    case 'written':
      return (
        <p>
          <strong>Written:</strong> <a href={outcome.page}>{outcome.path}</a>
        </p>
      );
    case 'handed':
      return (
        <>
          <p>{outcome.words} It is kept here too until you clear it.</p>
          {outcome.pictures.map(({ file, blob }) => (
            <p>
              <button type="button" class="link" onClick={() => download(baseName(file), blob)}>
                {baseName(file)}
              </button>{' '}
              belongs into {file.slice(0, file.lastIndexOf('/'))}.
            </p>
          ))}
        </>
      );
    case 'refused':
    case 'writing':
      if (errors > 0) return <p class="error">{errors === 1 ? 'One thing' : `${errors} things`} to mend.</p>;
      if (!isKept)
        return <p class="error">This browser keeps nothing for this page: save before you leave it.</p>;
      return <p class="soft">{isBegun ? 'Kept in this browser.' : 'Kept in this browser as you type.'}</p>;
  }
}

const place = document.getElementById('write');
const data = window.ribbandWrite;
if (place !== null && data !== undefined) render(<Write data={data} />, place);
