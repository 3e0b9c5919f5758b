// An invented shop for the comparison with years.c, every input written out.

const tub = { mark_ml: 2500, length_mm: 220, width_mm: 160, freeboard_mm: 45, lid_open_h: 1 };
const ROUTE = ['dirty', 'clean'];

const header = {
  format: 'bathbook/1',
  shop: { room_c: 21, humidity_pct: 45 },
  baths: { dirty: tub, clean: { ...tub, mark_ml: 2300, lid_open_h: 1.5, tub_ml: 3800 } },
  solvents: { spirit: { ipa_wt_pct: 99.5 } },
  resins: {
    slate: { density_g_ml: 1.12, viscosity_mpa_s: 350 },
    rose: { density_g_ml: 1.15, viscosity_mpa_s: 650 },
  },
  parts: {
    arch: { shape: 'solid', volume_ml: 30, area_cm2: 82 },
    shell: { shape: 'hollow', volume_ml: 12, area_cm2: 118 },
    gum: { shape: 'mask', volume_ml: 3, area_cm2: 25 },
  },
};

const wash = {
  id: '',
  at: '',
  what: 'wash',
  baths: ROUTE,
  resin: 'slate',
  drained_min: 10,
  prerinse: 'none',
  midrinse: 'none',
  minutes: [5, 5],
  agitation: 'hand',
};

const washes = [
  { ...wash, parts: { arch: 8 } },
  { ...wash, parts: { arch: 5, shell: 2 }, trapped_g: 0.6 },
  { ...wash, parts: { gum: 6 }, resin: 'rose', drained_min: 25, prerinse: 'spray', midrinse: 'brush' },
  { ...wash, parts: { shell: 4 }, minutes: [3, 8], agitation: 'still' },
  { ...wash, parts: { arch: 9 }, drained_min: 840, agitation: 'stirred' },
  { ...wash, parts: { arch: 3 }, carry_g: 4.5, drag_ml: [8, 9.5] },
];

/** What the shop does now. */
export const practice = {
  header,
  route: ROUTE,
  places: [0, 1],
  washes,
  solvent: 'spirit',
  rule: 'rotate',
  changeAt: 1,
};

/** Mean loads by weekday, Sunday first. */
export const perDay = [0, 6.3, 5, 5.6, 4.8, 5.2, 0.7];

/** Wide baths that stand open all day in a damp room. */
export const openHeader = {
  ...header,
  shop: { room_c: 27, humidity_pct: 80 },
  baths: Object.fromEntries(
    Object.entries(header.baths).map(([name, bath]) => [
      name,
      { ...bath, width_mm: 260, freeboard_mm: 20, lid_open_h: 24 },
    ]),
  ),
};
