/** What the charts of a page are drawn from. */
import type { Outlook } from '../../outlook/outlook.ts';
import type { MomentAhead } from '../../outlook/trail.ts';
import type { Series } from '../../records/series.ts';
import type { BinKind } from '../../records/series-bins.ts';
import type { ReadingPoint } from '../../records/series-readings.ts';

export interface Charts {
  series: Series;
  readings: readonly ReadingPoint[];
  binKind: BinKind;
  /** From the end of the window on; none where nothing can be foreseen. */
  ahead: readonly MomentAhead[];
  outlook: Outlook | null;
}
