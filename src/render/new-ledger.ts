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
  /** In the order of a wash. */
  baths: readonly string[];
  markMl: number;
  lengthMm: number;
  widthMm: number;
  freeboardMm: number;
  lidOpenH: number;
}

/** A head in the plain form that the fast scanner reads, with a line of remark on every key. */
export function newLedgerText(given: NewLedger): string {
  return `# Ledger of a wash bench. One event is one line at the end; lines are added and never rewritten.
# Numbers are in the unit that their key names. After an edit by hand: bathbook check
format: bathbook/1
shop:
  # Shown above the baths and on reports.
  name: ${JSON.stringify(given.name)}
  # Times are typed and shown in this zone.
  timezone: ${given.timezone}
${currencyText(given)}  # Room temperature: how thick the film of resin on prints is, and how fast solvent leaves an open bath.
  room_c: ${given.roomC}
  # Relative humidity of the room: how much water the baths take up.
  humidity_pct: ${given.humidityPct}
  # models, or body-contact for parts that touch a patient: which limits the last bath has.
  parts_use: ${given.partsUse}
  # What a wash means when nothing else is said.
  #   resin         of the catalogue, or of your own below
  #   drained_min   minutes the prints drained before the wash: the longer, the less resin comes in
  #   prerinse      before the first bath: none, spray, brush or spin
  #   midrinse      between baths: none, spray or brush
  #   minutes       soak in each bath, in their order
  #   agitation     how the bath moves: still, hand, stirred or ultrasonic
  defaults: {resin: standard, drained_min: 10, prerinse: none, midrinse: none, minutes: [${soaks(given)}], agitation: still}
baths:
  # In the order of a wash${bathsText(given)}.
  #   mark_ml       volume at the mark on the tub
  #   length_mm     inside of the tub; with its width the open surface, where solvent evaporates
  #   width_mm
  #   freeboard_mm  height from the mark up to the rim
  #   lid_open_h    hours a day without the lid
  #   tub_ml        volume up to the brim, if you like: a wash then tells when its parts would make the tub run over
${given.baths.map((bath) => `  ${bath}: ${tubText(given)}\n`).join('')}# Solvents, resins and parts of your own go here, besides those the program knows, like this:
# solvents:
#   ipa99: {ipa_wt_pct: 99.5, price_per_l: 6.20}
# resins:
#   grey: {density_g_ml: 1.11, viscosity_mpa_s: 400, refractive_index: 1.49}
# parts:
#   model: {shape: solid, volume_ml: 32}
events:
`;
}

function currencyText({ currency }: NewLedger): string {
  return currency ? `  # Of the prices of solvents, further down.\n  currency: ${currency}\n` : '';
}

function soaks({ baths }: NewLedger): string {
  return baths.map(() => 5).join(', ');
}

/** What their names mean for limits and moves. */
function bathsText({ baths }: NewLedger): string {
  if (baths.length === 2) return ': first dirty, then clean; rotate moves clean into dirty';
  const last = baths.at(-1);
  return baths.length === 1
    ? `; ${last} has the limits of a clean bath, and is changed with refill`
    : `; ${last} has the limits of a clean bath, and each is changed with refill`;
}

function tubText(given: NewLedger): string {
  return writeFlow({
    mark_ml: given.markMl,
    length_mm: given.lengthMm,
    width_mm: given.widthMm,
    freeboard_mm: given.freeboardMm,
    lid_open_h: given.lidOpenH,
  });
}
