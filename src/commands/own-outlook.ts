import type { Outlook } from '../outlook/outlook.ts';
import type { Status } from '../outlook/status.ts';
import { localDays } from './days.ts';

/** The outlook at the shop's own pace, loaded where it is asked for; null when the pace is not known. */
export async function ownOutlook(status: Status): Promise<Outlook | null> {
  if (!status.plan) return null;
  const { outlookOf } = await import('../outlook/outlook.ts');
  return outlookOf(status, { pace: status.plan.pace, days: localDays });
}
