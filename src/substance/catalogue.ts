import data from '../../data/catalogue.json' with { type: 'json' };
import type { PartHeader, ResinHeader, SolventHeader } from '../ledger/header.ts';
export interface Catalogue {
  solvents: Record<string, SolventHeader>;
  resins: Record<string, ResinHeader>;
  parts: Record<string, PartHeader & { thin?: boolean; typical_dry_min?: number }>;
}
export const catalogue: Catalogue = data as Catalogue;
