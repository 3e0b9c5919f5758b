/** Notes that several commands give about a ledger as a whole. */
import { refusalProblem } from '../bath/refusal.ts';
import type { Refused } from '../bath/replay.ts';
import { withExcerpt } from '../ledger/excerpt.ts';
import type { Settled } from '../ledger/settle.ts';
import type { Status } from '../outlook/status.ts';
import { count } from '../render/format.ts';
import type { Context, Opened } from './context.ts';

/** Events that cannot have happened as written, with their place; the estimate leaves them out. */
export async function tellRefused(
  context: Context,
  opened: Opened,
  refused: readonly Refused[],
): Promise<void> {
  if (refused.length === 0) return;
  const problems = refused
    .slice(0, 20)
    .map((one) => withExcerpt(opened.file.text, refusalProblem(one, opened.shop)));
  await context.tell(problems, opened.path);
  context.note(
    `The estimate leaves out ${count(refused.length, 'event')} that cannot have happened as written`,
  );
}

/** What a person could think counts, and does not: events after the clock. */
export function tellUncounted(context: Context, settled: Pick<Settled, 'later'>): void {
  if (settled.later > 0) {
    context.note(
      `${count(settled.later, 'event lies', 'events lie')} after this time and ${settled.later === 1 ? 'does' : 'do'} not count yet`,
    );
  }
}

/** Readings too far off to be chance, by name. */
export function tellFlagged(context: Context, { belief }: Pick<Status, 'belief'>): void {
  const { flagged, lastFlagged } = belief.lessons.all;
  if (flagged === 0) return;
  const named = lastFlagged.map(({ id, misfit }) => `${id} (${misfit.toFixed(1)} sd)`);
  context.note(
    `${count(flagged, 'reading is', 'readings are')} more than 3 standard deviations from what was expected and ${flagged === 1 ? 'counts' : 'count'} for less: ${named.join(', ')}; look at ${flagged === 1 ? 'it' : 'them'} with: bathbook entries --what reading`,
  );
}
