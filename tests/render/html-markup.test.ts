import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { parse } from 'parse5';
import { describe, expect, it } from 'vitest';
import { documentOf, element } from '../../src/render/html/markup.ts';
import { STYLE, STYLE_SHA256 } from '../../src/render/html/style.ts';
import { printable } from '../../src/render/printable.ts';
import { all, attribute, textOf } from './chart-reader.ts';

/** The first element of a name, as another parser finds it. */
function found(html: string, name: string) {
  return all(parse(html) as never, ({ tagName }) => tagName === name)[0]!;
}

const HOSTILE = fc.oneof(
  fc.string({ unit: 'binary' }),
  fc
    .array(
      fc.constantFrom(
        '<',
        '>',
        '&',
        '"',
        "'",
        '</p>',
        '<!--',
        '-->',
        '<script>',
        '&lt;',
        '&#60;',
        'x',
        '=',
        ' ',
      ),
    )
    .map((parts) => parts.join('')),
);

describe('text in markup', () => {
  it('comes out of a parser as it went in, in an element and in an attribute', () => {
    fc.assert(
      fc.property(HOSTILE, (text) => {
        const page = documentOf(element('p', { title: text }, text));
        const shown = printable(text);
        const paragraph = found(page, 'p');
        // A parser may not keep a lone half of a pair; the file could not either.
        const whole = (one: string) => Buffer.from(one, 'utf8').toString('utf8');
        expect(whole(textOf(paragraph))).toBe(whole(shown));
        expect(whole(attribute(paragraph, 'title')!)).toBe(whole(shown));
        const names = all(parse(page) as never, () => true).map(({ tagName }) => tagName);
        expect(names).toEqual(['html', 'head', 'body', 'p']);
      }),
      { numRuns: 500 },
    );
  });

  it('cannot turn the direction of writing', () => {
    expect(textOf(found(documentOf(element('p', {}, 'a\u202eb')), 'p'))).toBe('a\ufffdb');
  });

  it('leaves out attributes that are undefined or false', () => {
    expect(documentOf(element('p', { id: undefined, hidden: false, lang: 'en' }))).toBe(
      '<!doctype html>\n<p lang="en"></p>\n',
    );
  });
});

describe('the style', () => {
  it('has the hash that lets it in', () => {
    expect(createHash('sha256').update(STYLE).digest('base64')).toBe(STYLE_SHA256);
  });

  it('asks for nothing from outside', () => {
    expect(STYLE).not.toMatch(/url\(|@import|@font-face|https?:/);
  });
});
