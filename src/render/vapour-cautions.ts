/**
 * What is said before any number of a vapour estimate. No sentence here, and none made from a number, says that the air is good.
 */
import type { Vapour } from '../vapour/vapour.ts';
import { printable } from './printable.ts';
import { given, two } from './vapour-words.ts';

interface FlammableFacts {
  lower: number;
  upper: number;
}

/** In the order they are shown. */
export function vapourCautions(vapour: Vapour, flammable: FlammableFacts): string[] {
  return [
    fireCaution(vapour, flammable),
    'No flame, spark, static, heater or hot lamp at the tubs or below them: the vapour sinks. Lids on whenever no part goes in or out, no soaked wipes left lying',
    'The vapour irritates eyes and airways, reported at 400 ppm (54FR2332), and can make drowsy (H319, H336). Stinging eyes, headache or drowsiness: lids on, out into fresh air',
    `All of this is an estimate and no measurement: the published models differ by a factor of ${two(modelSpread(vapour))} here. Only a badge or a pump sample, like OSHA method 109, settles what people breathe`,
    'Local codes, the fire authority, the safety data sheet, the instructions for use and licensed practice decide',
  ];
}

/** How far the models lie apart. */
function modelSpread({ models }: Vapour): number {
  return Math.max(...models.map(({ high }) => high)) / Math.min(...models.map(({ low }) => low));
}

/** By the tub that is worst: inside the range beats above it, which beats below. */
function fireCaution({ tubs, question }: Vapour, { lower, upper }: FlammableFacts): string {
  const at = `${given(question.tempC)} °C`;
  const inside = tubs.filter(({ headspace }) => headspace.place === 'inside');
  const range = `the flammable range of ${lower.toFixed(1)} to ${upper} % v/v`;
  if (inside.length > 0) {
    const named = inside.map(({ tub, headspace }) => `${printable(tub.name)} ${two(headspace.percent)} %`);
    return `Fire: at ${at} the vapour in a closed tub is inside ${range} (${named.join(', ')}): a spark lights it. A lid keeps solvent in; it does not make the space inert`;
  }
  const { percent, fromC } = tubs.reduce((one, other) =>
    one.headspace.percent > other.headspace.percent ? one : other,
  ).headspace;
  if (percent > upper)
    return `Fire: at ${at} the vapour in a closed tub, ${two(percent)} % v/v, is above ${range}; opened or cooled it passes through all of it. Treat every tub as one that a spark lights`;
  return `Fire: at ${at} the vapour in a closed tub comes to ${two(percent)} % v/v, below ${range}, and is inside it from about ${Math.round(fromC)} °C; fresh solvent, a splash or a warm spot is inside it now. Treat every tub as one that a spark lights`;
}
