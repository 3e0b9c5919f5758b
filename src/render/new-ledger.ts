/** The text of a new ledger: a head that explains itself, and no events yet. */
import { writeFlow } from '../ledger/line.ts';

export interface NewLedger {
  name: string;
  timezone: string;
  /** Empty when the shop gives none. */
  currency: string;
  partsUse: string;
  roomC: number;
  humidityPct: number;
  markMl: number;
  lengthMm: number;
  widthMm: number;
  freeboardMm: number;
  lidOpenH: number;
}

/** A head in the plain form that the fast scanner reads, each group of keys under a remark on what it does. */
export function newLedgerText(given: NewLedger): string {
  const bath = writeFlow({
    mark_ml: given.markMl,
    length_mm: given.lengthMm,
    width_mm: given.widthMm,
    freeboard_mm: given.freeboardMm,
    lid_open_h: given.lidOpenH,
  });
  return `# Ledger of a wash bench. One event is one line at the end; lines are added and never rewritten.
# Numbers are in the unit that their key names. After an edit by hand: bathbook check
format: bathbook/1
shop:
  name: ${JSON.stringify(given.name)}
  timezone: ${given.timezone}
${given.currency ? `  currency: ${given.currency}\n` : ''}  # The air of the room: how fast solvent leaves an open bath and how much water it takes up.
  room_c: ${given.roomC}
  humidity_pct: ${given.humidityPct}
  # models, or body-contact for parts that touch a patient: which limits the clean bath has.
  parts_use: ${given.partsUse}
  # What a wash means when nothing else is said. Minutes are in the dirty and in the clean bath.
  defaults: {resin: standard, drained_min: 10, prerinse: none, midrinse: none, minutes: [5, 5], agitation: still}
baths:
  # mark_ml is the volume at the mark, length_mm and width_mm the inside of the tub, freeboard_mm the height from the
  # mark up to the rim, lid_open_h the hours a day without the lid. With tub_ml, the volume up to the brim, a wash
  # tells when its parts would make the tub run over.
  dirty: ${bath}
  clean: ${bath}
# Solvents, resins and parts of your own go here, besides those the program knows, like this:
# solvents:
#   ipa99: {ipa_wt_pct: 99.5, price_per_l: 6.20}
# resins:
#   grey: {density_g_ml: 1.11, viscosity_mpa_s: 400, refractive_index: 1.49}
# parts:
#   model: {shape: solid, volume_ml: 32}
events:
`;
}
