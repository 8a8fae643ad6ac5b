import { type Differing, differingFiles, type PublishedSeal, publishedSeal } from './seal/files.js';

/**
 * The page by which a sealed copy checks itself: it fetches every file that the seal names from where it came
 * itself, works out its SHA-256 and tells which differ. Nothing is fetched before somebody asks, but for the seal.
 */

const FROM_DISK =
  'This copy was opened straight from disk, where a browser lets no page read other files. So it cannot check itself here; the ways below can. Put on a host, or shown by any server of files, this page checks all of it.';

const NOT_SECURE =
  'This copy came over an address that the browser does not take for safe (http, from another machine); there it works out no hashes. Open it over https, or take one of the ways below.';

function element<Name extends keyof HTMLElementTagNameMap>(
  name: Name,
  text = '',
  look = '',
): HTMLElementTagNameMap[Name] {
  const made = document.createElement(name);
  made.textContent = text;
  if (look !== '') made.className = look;
  return made;
}

function files(number: number): string {
  return `${number} ${number === 1 ? 'file' : 'files'}`;
}

async function start(box: HTMLElement): Promise<void> {
  box.replaceChildren();
  box.className = 'seal-check';
  if (location.protocol === 'file:') return box.append(element('p', FROM_DISK));
  // Absent in any page that did not come over a safe way, whatever the types say.
  if (!window.isSecureContext) return box.append(element('p', NOT_SECURE));
  const seal = await publishedSeal().catch(() => 'The seal (seal.json) could not be fetched.');
  if (typeof seal === 'string') return box.append(element('p', seal, 'found differs'));
  showSeal(box, seal);
}

function showSeal(box: HTMLElement, seal: PublishedSeal): void {
  const signed = seal.signed
    ? 'It is signed; the signature is checked with tools of your own.'
    : 'It is not signed.';
  const hash = element('p', '', 'seal-hash');
  for (const [at, line] of seal.hash.entries()) hash.append(...(at > 0 ? [element('br')] : []), line);
  const button = element('button', `Check all ${files(seal.files.length)}`);
  button.type = 'button';
  const news = element('div');
  news.setAttribute('role', 'status');
  button.addEventListener('click', () => void check(seal, button, news));
  box.append(
    element('p', `Made on ${seal.made}, over ${files(seal.files.length)}. ${signed} Its hash (SHA-256):`),
    hash,
    button,
    news,
  );
}

async function check(seal: PublishedSeal, button: HTMLButtonElement, news: HTMLElement): Promise<void> {
  button.disabled = true;
  const bar = element('progress');
  bar.max = seal.files.length;
  bar.value = 0;
  bar.setAttribute('aria-label', 'Files checked');
  news.replaceChildren(bar);
  try {
    const differing = await differingFiles(seal.files, (done) => {
      bar.value = done;
    });
    news.replaceChildren(...verdict(seal, differing));
  } catch {
    news.replaceChildren(
      element('p', 'The host could not be reached any more. Nothing is proved.', 'found differs'),
    );
  }
  button.disabled = false;
}

function verdict(seal: PublishedSeal, differing: readonly Differing[]): HTMLElement[] {
  if (differing.length === 0)
    return [
      element(
        'p',
        `Nothing differs: all ${files(seal.files.length)} are, to the last bit, as they were sealed.`,
        'found same',
      ),
      element('p', 'Files that somebody added cannot be seen from here: no page leads to them.'),
    ];
  const list = element('ul');
  for (const { path, how } of differing) list.append(element('li', `${path}: ${how}`));
  const share = `${differing.length} of ${files(seal.files.length)}`;
  return [
    element('p', `${share} ${differing.length === 1 ? 'is' : 'are'} not as sealed:`, 'found differs'),
    list,
    element(
      'p',
      'Some hosts alter pages on the way, to make them smaller or to count readers. Whether that is all shows only in a copy of the folder itself.',
    ),
  ];
}

const box = document.getElementById('seal');
if (box !== null) void start(box);
