import type { Seen } from './seen.ts';

/** How many readings of a bath were taken in. */
export function readingRemarks({ status }: Seen, place: number): string[] {
  const own = status.belief.compared.filter(({ bath }) => bath === place);
  if (own.length === 0)
    return ['No reading of this bath has been logged: this is replayed from the other entries alone.'];
  const weights = own.filter(({ flagged }) => flagged).length;
  const flagged = weights === 0 ? '' : ` ${weights} of them lay too far off and counted for less.`;
  return [
    `${own.length} reading${own.length === 1 ? '' : 's'} of this bath ${own.length === 1 ? 'has' : 'have'} been taken in.${flagged}`,
  ];
}
