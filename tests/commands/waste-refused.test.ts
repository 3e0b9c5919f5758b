/** The label of a container, what `waste` does not take, and texts that would steer a terminal. */
import { describe, expect, it } from 'vitest';
import { bundled } from './bundle.ts';
import { benchOf, FILLS, IPA99_G_ML, line } from './stock-bench.ts';

const main = bundled();
const OPENED = line('open1', '2026-10-30T07:30', 'waste, container: "can-1", action: opened, capacity_l: 10');
const DRAIN = line('drn01', '2026-11-05T09:00', 'drain, bath: dirty, ml: 500, into: "can-1"');

describe('the label', () => {
  const bench = benchOf(main, [OPENED, ...FILLS, DRAIN]);

  it('says what it is, what is in it, since when, the hazards, and to keep it closed', () => {
    const { label } = bench.data('waste', 'label', 'can-1');
    expect(label.text.split('\n')[0].trim()).toBe('HAZARDOUS WASTE');
    const text = label.text.replaceAll(/\s+/g, ' ');
    expect(text).toContain('Container can-1, takes 10 L');
    // Half a litre of fresh solvent.
    expect(text).toContain(
      `about ${(500 * IPA99_G_ML).toFixed(0)} g: IPA 99.5 wt%, resin 0.00 wt%, water 0.50 wt%`,
    );
    expect(text).toContain('Started 2026-10-30');
    expect(text).toContain(
      'Danger. H225 highly flammable liquid and vapour; H319 causes serious eye irritation',
    );
    expect(text).toContain('Keep closed unless filling or emptying');
    expect(text).toContain('about 0.50 L on 2026-11-20');
    for (const row of label.text.split('\n')) expect(row.length).toBeLessThanOrEqual(58);
  });

  it('cites each line below, as plain text, and leaves the rest to local rules', () => {
    const { out, code } = bench.say('waste', 'label', 'can-1');
    expect(code).toBe(0);
    expect(out).toContain('40 CFR 262.15 / 262.16 [40CFR262.15]');
    expect(out.replaceAll(/\s+/g, ' ')).toContain('local rules decide what a label must say');
    // biome-ignore lint/suspicious/noControlCharactersInRegex: those are what must not be there
    expect(out).not.toMatch(/[\u0000-\u0009\u000b-\u001f]/);
  });

  it('is not made for a container that was taken away', () => {
    const gone = benchOf(main, [
      OPENED,
      ...FILLS,
      DRAIN,
      line('colct', '2026-11-12T09:00', 'waste, container: "can-1", action: collected'),
    ]);
    const { code, err } = gone.say('waste', 'label', 'can-1');
    expect(code).toBe(64);
    expect(err).toContain('it was collected on Thu 2026-11-12');
  });
});

describe('what cannot be', () => {
  const bench = benchOf(main, [OPENED, ...FILLS]);
  const before = bench.text();

  it.each([
    [['colected', 'can-1'], 'by "colected"', 'Did you mean "collected"?'],
    [['emptied'], 'without the container', 'bathbook waste emptied can-1'],
    [['emptied', 'can1'], 'no waste container of that name', 'Did you mean "can-1"?'],
    [['label'], 'without one container', ''],
    [['label', 'drum'], 'Cannot print a label for "drum"', 'The containers are can-1'],
    [['opened', 'can-2'], 'without its size', 'bathbook waste opened can-2 10 L'],
    [['opened', 'can-2', '10 kg'], '(size)', ''],
    [['opened', 'can-2', '0 L'], 'a size of 0 L', 'more than 0'],
    [['--note', 'x'], '--note with bathbook waste', ''],
    [['collected', 'can-1', '--all'], '--all with "waste collected"', ''],
  ])('waste %j is refused with 64, and nothing is written', (args, message, help) => {
    const { code, err, out } = bench.say('waste', ...args);
    expect(code).toBe(64);
    expect(out).toBe('');
    expect(err).toContain(message);
    expect(err).toContain(help);
    expect(bench.text()).toBe(before);
  });
});

describe('hostile names', () => {
  it('reach no terminal as they are, and no label', () => {
    const name = 'c\\u001b[2J\\u202edrum';
    const bench = benchOf(main, [
      ...FILLS,
      line('drn01', '2026-11-05T09:00', `drain, bath: dirty, ml: 500, into: "${name}"`),
    ]);
    const typed = 'c\u001b[2J\u202edrum';
    const shown = [['waste'], ['waste', 'label', typed], ['waste', 'emptied', typed]]
      .map((args) => bench.say(...args).out)
      .join('');
    expect(shown).toContain('drum');
    // biome-ignore lint/suspicious/noControlCharactersInRegex: those are what must not be there
    expect(shown).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u202e]/);
  });
});
