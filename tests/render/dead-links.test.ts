import { expect, it } from 'vitest';
import { deadLinksIn } from '../../src/render/dead-links.js';

function report(pages: Readonly<Record<string, string>>) {
  return deadLinksIn(new Set(Object.keys(pages)), (path) => pages[path] ?? '');
}

it('finds files and places that are not there, from every folder', () => {
  const { dead, checked } = report({
    'index.html': '<a href="a/b.html#here">x</a><a href="a/c.html">y</a><img src="photos/1.jpg" alt="">',
    'a/b.html':
      '<h2 id="here">b</h2><a href="../index.html">up</a><a href="#there">z</a><a href="../x.css">w</a>',
    'photos/1.jpg': '',
  });
  expect(dead).toEqual([
    { page: 'index.html', address: 'a/c.html', why: 'no such file' },
    { page: 'a/b.html', address: '#there', why: 'no such place in the page' },
    { page: 'a/b.html', address: '../x.css', why: 'no such file' },
  ]);
  expect(checked).toBe(6);
});

it('reads each picture of a set, addresses with signs in them, and lists what leads out', () => {
  const { dead, outside } = report({
    'index.html':
      '<img srcset="photos/s.jpg 480w, photos/l.jpg 960w" alt=""><a href="a%20b.html?x=1#%C3%A9">e</a>' +
      '<a href="https://example.org/a">o</a><a href="https://example.org/a">o</a><a href="mailto:a@example.org">m</a>',
    'a b.html': '<p id="é">e</p>',
    'photos/s.jpg': '',
  });
  expect(dead).toEqual([{ page: 'index.html', address: 'photos/l.jpg', why: 'no such file' }]);
  expect(outside).toEqual(['https://example.org/a', 'mailto:a@example.org']);
});

it('takes the state of a search for no place in the page', () => {
  expect(report({ 'index.html': '<a href="#q=oil">oil</a>' }).dead).toEqual([]);
});
