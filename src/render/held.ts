import type { Line } from './echo.ts';
import { volume } from './format.ts';

/** So much of one solvent, or what is missing where more was poured than came in. */
export function heldText({ solvent, onHandMl }: { solvent: string; onHandMl: number }): string {
  if (onHandMl >= 0) return `${volume(onHandMl)} of ${solvent}`;
  return `${solvent}: ${volume(-onHandMl)} more was poured than the ledger knows of; log the receipt or a count`;
}

/** Where no stock was logged, and how to begin; the command stays on a line of 60 columns, to be copied. */
export function unknownLines(solvent: string): Line[] {
  return [
    ['on hand', `${solvent}: not known, no stock was logged`],
    ['', `log a count: bathbook stock counted ${solvent} 7.5 L`],
  ];
}
