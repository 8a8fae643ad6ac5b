import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { SealView } from '../../src/render/pages/seal.js';
import { Leaf, Masthead } from './pieces.js';

/** How somebody finds out whether this copy of the record is as it was published. */
export function SealCheck({ view }: TemplateProps<SealView>): VNode {
  return (
    <>
      <Masthead kind={<p>For whoever has to trust it</p>} title="Check this copy">
        <p class="lead">
          This copy carries a seal: the SHA-256 of each of its files as it was when the copy was made. A file
          that was changed since, by one letter, has another.
        </p>
      </Masthead>
      <Leaf heading="Here, in the browser" id="here">
        <div id="seal">
          <noscript>
            <p>This page checks itself by script, which is off here. The ways below need none.</p>
          </noscript>
        </div>
      </Leaf>
      <Leaf heading="With tools of your own" id="tools" note="worth more than the word of this page">
        <div class="prose">
          <p>
            Take the whole folder of the copy, and in it, with Ribband, which names every file that was
            changed, added or removed, and checks the signature where there is one:
          </p>
          <pre>
            <code>ribband seal --check .</code>
          </pre>
          <p>
            With what any system has (on a Mac <code>shasum -a 256</code> for <code>sha256sum</code>); the
            second prints the hash of the seal:
          </p>
          <pre>
            <code>{'sha256sum -c SHA256SUMS\nsha256sum seal.json'}</code>
          </pre>
          <p>
            Where <code>seal.json.sig</code> lies beside it, with OpenSSH, which tells by which key it was
            signed. Ask the owner for the fingerprint of theirs:
          </p>
          <pre>
            <code>{'ssh-keygen -Y check-novalidate -n ribband -s seal.json.sig < seal.json'}</code>
          </pre>
          <p>
            What stands in the seal is explained in the <a href={view.reference}>reference of the format</a>.
          </p>
        </div>
      </Leaf>
      <Leaf heading="What it proves" id="proves">
        <div class="prose">
          <p>Where nothing differs, that proves:</p>
          <ul>
            {view.proves.map((line) => (
              <li>{line}</li>
            ))}
          </ul>
          <p>It does not prove:</p>
          <ul>
            {view.provesNot.map((line) => (
              <li>{line}</li>
            ))}
            <li>
              That this page tells the truth. Whoever can change a copy can change its seal, and can make this
              page say that all is well. A tool of your own, and a hash or signature that came to you another
              way, cannot be talked over.
            </li>
          </ul>
        </div>
      </Leaf>
    </>
  );
}
