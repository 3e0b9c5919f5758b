import type { ReadingEvent } from './event.ts';
import type { Finding } from './finding.ts';
import type { Known } from './names.ts';
import { isWithin, rangeText } from './range.ts';
import { heaviestResidue, tubRange } from './reading-ranges.ts';
import { inKeys, likelySlip, residueSlip } from './reading-slips.ts';

/** What the keys of a reading cannot say each for itself: what needs another, and what this sample or tub can hold. */
export function checkReading(event: ReadingEvent, known: Known | null): Finding[] {
  return [...checkScale(event), ...checkResidue(event), ...checkTub(event, known)];
}

function checkScale({ sg, sg_ref }: ReadingEvent): Finding[] {
  if (sg !== undefined && sg_ref === undefined) {
    const help = 'Add what is printed on the hydrometer: sg_ref: "20/20", "25/25" or "60/60F"';
    return [
      { code: 'missing-key', message: 'Cannot read this reading of sg without "sg_ref"', help, path: [] },
    ];
  }
  if (sg === undefined && sg_ref !== undefined) {
    const message = 'Cannot use "sg_ref" in a reading without "sg"';
    return [{ code: 'not-together', message, help: 'Take "sg_ref" out', path: ['sg_ref'], atKey: true }];
  }
  return [];
}

function checkResidue({ residue }: ReadingEvent): Finding[] {
  if (residue === undefined) {
    return [];
  }
  const { sample_ml: sampleMl, dry_g: dryG } = residue;
  const mostG = heaviestResidue(sampleMl);
  if (dryG <= mostG) {
    return [];
  }
  return [
    {
      code: 'residue-too-heavy',
      message: `Cannot take dry_g: ${dryG}, a sample of ${sampleMl} mL leaves at most ${mostG} g even if it is neat resin`,
      help: inKeys(residueSlip(residue)),
      path: ['residue', 'dry_g'],
    },
  ];
}

function checkTub(event: ReadingEvent, known: Known | null): Finding[] {
  const key = event.level_ml === undefined ? 'weight_g' : 'level_ml';
  const value = event[key];
  const brimMl = known?.brimMl.get(event.bath);
  if (value === undefined || brimMl === undefined) {
    return [];
  }
  const range = tubRange(key, brimMl);
  if (isWithin(value, range)) {
    return [];
  }
  const slip = likelySlip(key, value, brimMl);
  return [
    {
      code: 'wrong-level',
      message: `Cannot take ${key}: ${value}, the tub of the bath "${event.bath}" holds ${Math.round(brimMl)} mL up to the brim, allowed is ${rangeText(range)}`,
      help: slip
        ? inKeys(slip)
        : 'Check the value; the brim follows from "tub_ml", or "mark_ml" and "freeboard_mm", in the head',
      path: [key],
    },
  ];
}
