import { describe, expect, it } from 'vitest';
import type { Context } from '../../src/commands/context.ts';
import { answersOf, QUESTIONS } from '../../src/commands/setup-answers.ts';

/** A person at a terminal who gives these answers in turn. */
function person(answers: string[]) {
  const asked: string[] = [];
  const told: string[] = [];
  const context = {
    canAsk: true,
    note: () => {},
    tell: async (problems: { message: string }[]) =>
      void told.push(...problems.map(({ message }) => message)),
    ask: async (question: string, preset: string) => {
      asked.push(question);
      return answers.shift() || preset;
    },
  } as unknown as Context;
  return { context, asked, told };
}

describe('the questions of setup', () => {
  it('take the usual value for an empty answer', async () => {
    const { context, asked, told } = person([]);
    const { given, assumed } = await answersOf({}, context, '/bench/bathbook.yaml');
    expect(asked).toHaveLength(QUESTIONS.length);
    expect(told).toEqual([]);
    expect(assumed).toEqual([]);
    expect(given).toMatchObject({
      baths: ['dirty', 'clean'],
      markMl: 4000,
      lengthMm: 260,
      widthMm: 180,
      freeboardMm: 50,
      partsUse: 'models',
    });
  });

  it('ask again after an answer that cannot be used, and say why', async () => {
    const { context, asked, told } = person([
      'Bench',
      'Mars',
      'Europe/Lisbon',
      'toys',
      'Body-contact',
      'four',
      '3',
      '4 gallns',
      '3 L',
    ]);
    const { given } = await answersOf({}, context, '/bench/bathbook.yaml');
    expect(told).toHaveLength(4);
    expect(told[0]).toContain('"Mars"');
    expect(asked).toHaveLength(QUESTIONS.length + 4);
    expect(given).toMatchObject({
      name: 'Bench',
      timezone: 'Europe/Lisbon',
      partsUse: 'body-contact',
      baths: ['first', 'second', 'third'],
      markMl: 3000,
    });
  });

  it('put a zone that was most likely meant into the brackets, to be taken with Enter', async () => {
    const { context, asked } = person(['Bench', 'Halifax', '']);
    const { given } = await answersOf({}, context, '/bench/bathbook.yaml');
    expect(asked[2]).toContain('[America/Halifax]');
    expect(given.timezone).toBe('America/Halifax');
  });

  it('take a tub in any metric unit, and tell a zone by its place', async () => {
    const tubOf = async (tub: string) =>
      (await answersOf({ tub }, person([]).context, '/bench/bathbook.yaml')).given;
    for (const tub of ['260x180x50', '260 x 180 x 50 mm', '26x18x5 cm', ' 0.26 × 0.18 × 0.05 m '])
      expect(await tubOf(tub), tub).toMatchObject({ lengthMm: 260, widthMm: 180, freeboardMm: 50 });
    await expect(
      answersOf({ timezone: 'halifax' }, person([]).context, '/bench/bathbook.yaml'),
    ).rejects.toMatchObject({
      problems: [{ help: expect.stringContaining('America/Halifax') }],
    });
  });

  it('are not asked once an option answers one of them', async () => {
    const { context, asked } = person([]);
    const { given, assumed } = await answersOf({ mark: '3 L' }, context, '/bench/bathbook.yaml');
    expect(asked).toEqual([]);
    expect(given.markMl).toBe(3000);
    expect(assumed).not.toContain('--mark');
  });

  it('say before the first one where the ledger will be, and what each number means', async () => {
    const notes: string[] = [];
    const { context } = person([]);
    Object.assign(context, { note: (text: string) => notes.push(text) });
    await answersOf({}, context, '/bench/bathbook.yaml');
    expect(notes[0]).toContain('/bench/bathbook.yaml');
    // All but the name of the shop, which says itself what it is.
    expect(notes.slice(1).filter(Boolean)).toHaveLength(QUESTIONS.length - 1);
  });
});
