import { volume } from './format.ts';

/** So much of one solvent, or what is missing where more was poured than came in. */
export function heldText({ solvent, onHandMl }: { solvent: string; onHandMl: number }): string {
  if (onHandMl >= 0) return `${volume(onHandMl)} of ${solvent}`;
  return `${solvent}: ${volume(-onHandMl)} more was poured than the ledger knows of; log the receipt or a count`;
}
