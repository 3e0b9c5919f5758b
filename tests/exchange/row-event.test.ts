import { describe, expect, it } from 'vitest';
import { planColumns } from '../../src/exchange/plan.ts';
import { type RowStyle, rowEvent } from '../../src/exchange/row-event.ts';
import { readRows } from '../../src/exchange/rows.ts';
import { vocabulary } from '../../src/exchange/words.ts';

const style: RowStyle = {
  mark: undefined,
  words: vocabulary({
    baths: new Set(['dirty', 'clean']),
    brimMl: new Map(),
    washBaths: [],
    solvents: new Set(['ipa99']),
    resins: new Set(['grey', 'Clear-2']),
    parts: new Set(['model', 'mask', 'hollow-model']),
  }),
  exact: false,
  guarded: true,
  dates: 'd/m/y',
  local: ({ year, month, day, hour, minute }) => Date.UTC(year, month - 1, day, hour, minute),
  time: (ms) => new Date(ms).toISOString().replace('.000', ''),
};

/** The first row of a text as an event, or what is wrong. */
async function first(
  text: string,
  maps: string[] = [],
  more: { set?: string[]; style?: Partial<RowStyle> } = {},
) {
  const rows = await readRows(text);
  if ('message' in rows) return rows.message;
  const plan = planColumns(rows.columns, { maps, ignored: [], constants: more.set ?? [] });
  if (Array.isArray(plan)) return plan.map(({ message, help }) => `${message}. ${help}`).join('\n');
  const made = rowEvent(rows.rows[0]!, plan, { ...style, ...more.style });
  return 'message' in made ? made.message : made.event;
}

describe('a row of a shop', () => {
  it('of its own columns becomes an event', async () => {
    const text =
      'Tag;Zeit;Modelle;Masken;Harz;Hing (h);Bad 1;Bad 2;Fälle\n3.11.2026;7:55;6;0;GREY;0,5;5;4,5;26-01, 26-02\n';
    const maps = ['date=Tag', 'time=Zeit', 'parts.model=Modelle', 'parts.mask=Masken', 'resin=Harz'];
    maps.push('drained_min=Hing', 'minutes=Bad 1', 'minutes=Bad 2', 'cases=Fälle');
    expect(await first(text, maps)).toEqual({
      at: '2026-11-03T07:55:00Z',
      what: 'wash',
      parts: { model: 6 },
      resin: 'grey',
      drained_min: 30,
      minutes: [5, 4.5],
      cases: ['26-01', '26-02'],
    });
  });

  it.each([
    ['6 model, 2 mask', { model: 6, mask: 2 }],
    ['model 6; mask 2', { model: 6, mask: 2 }],
    ['6x Model + 2 × mask', { model: 6, mask: 2 }],
    ['Hollow Model', { 'hollow-model': 1 }],
    ['3 model and 1 model', { model: 4 }],
    ['{"model": 3}', { model: 3 }],
    ['2 gargoyle', { gargoyle: 2 }],
  ])('names its parts as %s', async (cell, parts) => {
    expect(await first(`at,parts\n2026-11-03 07:55,"${cell.replaceAll('"', '""')}"`)).toMatchObject({
      parts,
    });
  });

  it('knows words and names whatever their capitals, and the one that the ledger writes with some', async () => {
    const event = await first('at,what,resin,prerinse,bath\n2026-11-03 07:55,Top Up,clear 2,Spray,DIRTY');
    expect(event).toMatchObject({ what: 'top-up', resin: 'Clear-2', prerinse: 'spray', bath: 'dirty' });
  });

  it('takes what was set for all rows only where it has none', async () => {
    const set = ['by=NB', 'parts.model=4'];
    expect(await first('at,by\n2026-11-03 07:55,', [], { set })).toMatchObject({
      by: 'NB',
      parts: { model: 4 },
    });
    expect(await first('at,by\n2026-11-03 07:55,TO', [], { set })).toMatchObject({ by: 'TO' });
  });

  it('loses an id that a spreadsheet took for a number, and is then known by what it says', async () => {
    const event = await first('id,at,what,parts\n2.30E+46,2026-11-03T07:55:00Z,wash,6 model');
    expect(event).toEqual({ at: '2026-11-03T07:55:00Z', what: 'wash', parts: { model: 6 } });
  });

  it('tells what cannot be read, and what can be in two ways', async () => {
    expect(await first('at,parts,drained_min\n2026-11-03 07:55,1 model,long')).toBe(
      'Cannot read "long" as a number',
    );
    expect(await first('at,parts\n,1 model')).toContain('the cell is empty');
    expect(await first('at,parts\n3/4/2026,1 model', [], { style: { dates: undefined } })).toBe(
      'Cannot tell what day "3/4/2026" is, 3 April 2026 or 4 March 2026',
    );
    expect(await first('at,ml\n2026-11-03,"1,500"')).toContain('1.500 or 1500');
    expect(await first('at,parts\n2026-11-03,1 model,x,y')).toContain('Cannot place 4 cells under 2 columns');
    expect(await first('{"at": "2026-11-03"')).toContain('Cannot read this line as a JSON object');
  });
});

describe('columns', () => {
  it('named nearly like a key are asked about, unless mapped or left out', async () => {
    expect(await first('at,drained_mins,parts\n2026-11-03,5,1 model')).toContain(
      'Cannot tell what the column "drained_mins" is. did you mean "drained_min"? Then --map drained_min=drained_mins',
    );
    expect(
      await first('at,drained_mins,parts\n2026-11-03,5,1 model', ['drained_min=drained_mins']),
    ).toMatchObject({
      drained_min: 5,
    });
  });

  it('that are not there, keys that are not there, and two for one', async () => {
    expect(await first('Tag,Teile\n1,2', ['date=Tga'])).toContain('did you mean "Tag"?');
    expect(await first('Tag,Teile\n1,2', ['dat=Tag'])).toContain('Did you mean "date"?');
    expect(await first('Tag,Teile\n1,2', ['by=Tag', 'by=Teile'])).toContain('Cannot map two columns to "by"');
    expect(await first('a,a\n1,2', ['at=a'])).toContain('there are two');
    expect(await first('Tag,Teile\n1,2', ['at'])).toContain('write it as key=column');
    expect(await first('Teile,Wer\n1,2')).toContain('no column is named "at" or "date"');
  });

  it('of a ledger are sent to export', async () => {
    expect(await first('# mine\nformat: bathbook/1\nshop: {}\n')).toBe('Cannot import a ledger as it is');
  });
});
