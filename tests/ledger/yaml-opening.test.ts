/** A quote or a bracket that is left open is told where it was opened, not where the parser gave up. */
import { describe, expect, it } from 'vitest';
import { parseYaml } from '../../src/ledger/parse-yaml.ts';

/** Where the first problem is told, as the text before and from there. */
async function toldAt(text: string): Promise<[string, number]> {
  const { told } = await parseYaml(text);
  return [text.slice(told[0]!.start, told[0]!.end), told[0]!.start];
}

describe('is told at the opening', () => {
  it.each([
    ['a double quote', 'shop:\n  name: "Cobble Hill\nbaths:\n  dirty: 1\n', '"'],
    ['a single quote', "shop:\n  name: 'Cobble Hill\nbaths: 1\n", "'"],
    ['a brace', 'a: 1\nb: {x: 1, y: 2\nc: 3\nd: 4\n', '{'],
    ['a bracket', 'a: 1\nb: [1, 2\nc: 3\n', '['],
    ['the inner of two', 'a: 1\nb: {x: 1,\n  y: [1, 2\n  }\nc: 3\n', '['],
    ['a brace after one that is closed over lines', 'a: {x: 1,\n  y: 2}\nb: {z: 1\nc: 3\n', '{'],
    ['a quote after one that is closed', 'a: "x"\nb: "y\nc: 1\n', '"'],
    ['a bracket after quotes', `a: 'x'\nb: "y"\nc: [1\nd: 2\n`, '['],
  ])('%s', async (_, text, sign) => {
    expect(await toldAt(text)).toEqual([sign, text.lastIndexOf(sign)]);
  });
});

describe('is told where it is', () => {
  it.each([
    ['a key that is there twice', 'a: {x: 1,\n  y: 2}\nb: 1\nb: 2\n', 'b'],
    ['a tab', 'a: [1,\n  2]\nb:\n\tc: 1\n', '\t'],
  ])('%s, with lists closed before it', async (_, text, sign) => {
    const [found, place] = await toldAt(text);
    expect([found.slice(0, 1), place]).toEqual([sign, text.lastIndexOf(sign)]);
  });
});
