import type { VNode } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { Card, Field, Part, textOf } from './fields.js';
import { cleanPicture, drawSmall, forgetPicture, keepPicture, keptPicture } from './keep.js';
import type { SectionProps } from './rows.js';

/** Pictures: taken with the phone or chosen, made small and bare of what a camera adds before they are kept. */
export function Photos(props: SectionProps & { readonly onUnkept: () => void }): VNode {
  const { form, data, remarks, change, onUnkept } = props;
  const { subject } = data.facts;
  const [told, setTold] = useState('');
  const add = async (files: readonly File[]) => {
    const unread: string[] = [];
    for (const file of files) {
      const picture = await cleanPicture(file);
      if (picture === null) {
        unread.push(file.name);
        continue;
      }
      const id = newId();
      held.set(id, picture);
      if (!(await keepPicture(subject, id, picture))) onUnkept();
      // Somebody may have typed on meanwhile.
      change((before) => ({ photos: [...before.photos, { id, alt: '' }] }));
    }
    setTold(unread.length === 0 ? '' : `Not a picture that can be opened: ${unread.join(', ')}.`);
  };
  const describe = (id: number, alt: string) =>
    change({ photos: form.photos.map((row) => (row.id === id ? { ...row, alt } : row)) });
  const remove = (id: number) => {
    held.delete(id);
    void forgetPicture(subject, id);
    change({ photos: form.photos.filter((row) => row.id !== id) });
  };
  return (
    <Part
      id="photos"
      heading="Pictures"
      note="They leave this page without the place and the time that a camera hides in them."
    >
      {form.photos.map(({ id, alt }, index) => (
        <Card id={`photo-${id}-card`} title={`Picture ${index + 1}`} onRemove={() => remove(id)}>
          <Small subject={subject} id={id} />
          <Field
            id={`photo-${id}`}
            label="What it shows"
            help={data.help['photos[].alt']}
            remarks={remarks.get(`photo-${id}`)}
          >
            {(marks) => (
              <input
                {...marks}
                type="text"
                maxLength={500}
                value={alt}
                onInput={(event) => describe(id, textOf(event))}
              />
            )}
          </Field>
        </Card>
      ))}
      <div class="pick">
        <Pick label="Take a picture" camera onFiles={add} />
        <Pick label="Choose pictures" onFiles={add} />
      </div>
      <p class="said" role="status">
        {told}
      </p>
    </Part>
  );
}

/** A number that no picture of this or an earlier visit has. */
function newId(): number {
  lastId = Math.max(lastId + 1, Date.now());
  return lastId;
}

let lastId = 0;

/** Pictures of this visit, also where the browser does not keep any. */
const held = new Map<number, Blob>();

/** A picture of the form, from this visit or an earlier one. */
export async function pictureOf(subject: string, id: number): Promise<Blob | null> {
  return held.get(id) ?? (await keptPicture(subject, id));
}

function Pick(props: {
  readonly label: string;
  readonly camera?: boolean;
  readonly onFiles: (files: readonly File[]) => Promise<void>;
}): VNode {
  const choose = (event: Event) => {
    const input = event.target as HTMLInputElement;
    void props.onFiles([...(input.files ?? [])]);
    input.value = '';
  };
  const capture = props.camera === true ? ({ capture: 'environment' } as const) : {};
  return (
    <label class="add">
      {props.label}
      <input
        type="file"
        class="quiet"
        accept="image/*"
        multiple={props.camera !== true}
        {...capture}
        onChange={choose}
      />
    </label>
  );
}

function Small({ subject, id }: { subject: string; id: number }): VNode {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    void pictureOf(subject, id).then((picture) => {
      if (picture !== null && canvas.current !== null) void drawSmall(picture, canvas.current);
    });
  }, [subject, id]);
  return <canvas ref={canvas} class="small" width={160} height={120} />;
}
