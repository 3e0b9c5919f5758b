import { describe, expect, it } from 'vitest';
import type { ReadingEvent, WeighedEvent } from '../../src/ledger/event.ts';
import { needsTemperature, readingWords, weighedWords } from '../../src/render/reading.ts';

const reading = (keys: object): ReadingEvent => ({
  id: 'r',
  at: '',
  what: 'reading',
  bath: 'dirty',
  ...keys,
});

describe('readingWords', () => {
  it.each<[object, number | undefined, string]>([
    [{ density_g_ml: 0.8 }, undefined, 'density 0.8000 g/mL'],
    [{ density_g_ml: 0.80312, temp_c: 22.25 }, 21, 'density 0.80312 g/mL at 22.3 °C'],
    [
      { sg: 0.79, sg_ref: '60/60F', t_ref_c: 15.5556 },
      21,
      'SG 0.7900 60/60F at 21.0 °C (room), glass made for 15.6 °C',
    ],
    [{ brix: 31 }, 21, '31.0 °Brix at 21.0 °C (room)'],
    [{ refractive_index: 1.38, sd: 0.0005 }, undefined, 'refractive index 1.3800, ± 0.0005'],
    [{ residue: { sample_ml: 10, dry_g: 0.081 } }, 21, 'residue 0.081 g of 10 mL'],
    [{ resin_wt_pct: 0 }, 21, '0 wt% resin'],
    [{ level_ml: 3900 }, 21, 'level 3.90 L'],
    [{ weight_g: 3100.5 }, 21, 'weight 3100.5 g'],
  ])('tells %j in a room of %s °C', (keys, roomC, words) => {
    expect(readingWords(reading(keys), roomC)).toBe(words);
  });

  it('asks for a temperature where a few degrees count', () => {
    const needing = [{ density_g_ml: 0.8 }, { sg: 0.8 }, { brix: 31 }, { refractive_index: 1.38 }];
    expect(needing.every(needsTemperature)).toBe(true);
    expect([{ level_ml: 1 }, { weight_g: 1 }, { resin_wt_pct: 1 }].some(needsTemperature)).toBe(false);
  });
});

it('weighedWords never rounds a balance to kilograms', () => {
  const event: WeighedEvent = {
    id: 'w',
    at: '',
    what: 'weighed',
    wash: 'x',
    wet_g: 1412.35,
    clean_g: 1409.1,
  };
  expect(weighedWords(event)).toBe('1412.35 g wet, 1409.1 g clean, 3.25 g came off');
});
