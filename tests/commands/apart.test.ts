/** Values that are typed in two words, as they stand on paper; common practice, no source. */
import { describe, expect, it } from 'vitest';
import { joined, mayBeApart } from '../../src/commands/apart.ts';
import { COMMANDS, GLOBAL_OPTIONS, WRITE_OPTIONS } from '../../src/commands/definition.ts';

function read(line: string): string[] {
  const args = line.split(' ');
  const { options } = COMMANDS.find(({ name }) => name === args[0])!;
  return mayBeApart(args) ? joined(args, [...options, ...WRITE_OPTIONS, ...GLOBAL_OPTIONS]) : args;
}

describe('a value and its unit, or a day and its time', () => {
  it.each([
    ['reading dirty --level 3.9 L', '--level', '3.9 L'],
    ['reading dirty --level 1 gal --temp 72 F', '--temp', '72 F'],
    ['reading dirty --temp 21 °C --density 0.8', '--temp', '21 °C'],
    ['reading dirty --dry 81 mg --sample 10 mL', '--sample', '10 mL'],
    ['wash --drained 30 min 6 model', '--drained', '30 min'],
    ['wash 6 model --drained 1,5 hours', '--drained', '1,5 hours'],
    ['wash 1 model --area 12 cm2', '--area', '12 cm2'],
    ['setup --mark 4 litres', '--mark', '4 litres'],
    ['wash 6 model --minutes 5 5', '--minutes', '5 5'],
    ['wash 6 model --minutes 5 4.5 5 --in a,b,c', '--minutes', '5 4.5 5'],
    ['wash --drag 9 8 --area 340', '--drag', '9 8'],
    ['wash 6 model --at yesterday 17:30', '--at', 'yesterday 17:30'],
    ['wash --at Monday 9am 6 model', '--at', 'Monday 9am'],
    ['drain dirty 1 L --at 2026-11-20 17:30', '--at', '2026-11-20 17:30'],
    ['baths --as-of today 12:00', '--as-of', 'today 12:00'],
  ])('are one in: %s', (line, option, value) => {
    const args = read(line);
    expect(args[args.indexOf(option) + 1]).toBe(value);
    expect(args.join(' ')).toBe(line);
  });

  it.each([
    'wash --drained 30 6 model',
    'wash --drained 30 model',
    'wash --minutes 5 6 model',
    'wash --area 340 6',
    'wash 6 model --minutes 5',
    'wash --trapped 2 mask',
    'wash --by 3 min',
    'wash --case 26 min',
    'wash --note 3 L',
    'wash 6 model --at yesterday 6 mask',
    'wash 6 model --at 17:30 2 mask',
    'fill dirty 4 L ipa99',
    'reading dirty --temp 21 mL',
    'reading dirty --level=3.9 L',
    'wash --drained 30',
  ])('are left as they are in: %s', (line) => {
    expect(read(line)).toEqual(line.split(' '));
  });
});
