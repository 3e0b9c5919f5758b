// A practice of src/compare/habits.ts as the text that years.c reads: raw inputs only, nothing that the program has computed.

/** Change limits in wt% where the header names none: src/bath/README.md 6. */
const RESIN_LIMIT = { dirty: 10, clean: 2 };
const WATER_LIMIT = 8;
/** What habits do in the morning: topped up once below this share of the mark. */
const TOP_UP_BELOW = 0.95;

/**
 * @param practice - parts, resins and the solvent written out in its header, washes with every key
 * @param estimate - factors of the ledger's estimate
 * @param draws - for each drawn world its `truth` and its `schedule`
 */
export function inputText(practice, estimate, draws) {
  const { header, route, places, washes, solvent, rule, changeAt } = practice;
  const lines = [
    `room_c ${header.shop.room_c}`,
    `humidity_pct ${header.shop.humidity_pct}`,
    `ipa_wt_pct ${header.solvents[solvent].ipa_wt_pct}`,
    `refills_all ${rule === 'refill' ? 1 : 0}`,
    `change_at ${changeAt}`,
    `top_up_below ${TOP_UP_BELOW}`,
    `baths ${route.length}`,
    ...route.map((name) => bathLine(header, name)),
    `loads ${washes.length}`,
    ...washes.map((wash) => loadLine(header, wash)),
    factorsLine('estimate', estimate, places),
    `draws ${draws.length}`,
  ];
  for (const { truth, schedule } of draws) {
    lines.push(factorsLine('truth', truth, places), `starts ${[...schedule.starts].join(' ')}`, 'washes');
    schedule.load.forEach((load, at) => {
      lines.push(`${load} ${schedule.scatter[at]}`);
    });
  }
  return `${lines.join('\n')}\n`;
}

function bathLine({ baths, limits = {} }, name) {
  const bath = baths[name];
  const isLast = Object.keys(baths).at(-1) === name;
  const role = name === 'clean' || (name !== 'dirty' && isLast) ? 'clean' : 'dirty';
  return line({
    mark_ml: bath.mark_ml,
    length_mm: bath.length_mm,
    width_mm: bath.width_mm,
    freeboard_mm: bath.freeboard_mm,
    lid_open_h: bath.lid_open_h,
    tub_ml: bath.tub_ml ?? 'nan',
    resin_limit_pct: limits[`${role}_resin`]?.[1] ?? RESIN_LIMIT[role],
    water_limit_pct: limits[`${role}_water`]?.[1] ?? WATER_LIMIT,
  });
}

function loadLine({ parts, resins }, wash) {
  const named = Object.entries(wash.parts ?? {});
  const areaOf = (cup) =>
    named
      .filter(([name]) => cup === (wash.hollow === true || parts[name].shape === 'hollow'))
      .reduce((sum, [name, many]) => sum + many * parts[name].area_cm2, 0);
  const given = wash.area_cm2 ?? 0;
  const resin = resins[wash.resin];
  return line({
    parts: named.reduce((sum, [, many]) => sum + many, 0),
    open_cm2: areaOf(false) + (wash.hollow ? 0 : given),
    cup_cm2: areaOf(true) + (wash.hollow ? given : 0),
    density_g_ml: resin.density_g_ml,
    viscosity25_mpa_s: resin.viscosity_mpa_s,
    drained_min: wash.drained_min,
    prerinse: wash.prerinse,
    midrinse: wash.midrinse,
    trapped_g: wash.trapped_g ?? 0,
    carry_g: wash.carry_g ?? 'nan',
    agitation: wash.agitation,
    minutes: wash.minutes.join(' '),
    drag_ml: (wash.drag_ml ?? wash.baths.map(() => 'nan')).join(' '),
  });
}

function factorsLine(name, { carry, drag, dissolution, air }, places) {
  const ofPlaces = places.map((place) => line(air[place])).join(' ');
  return `${name} ${line({ carry, drag, dissolution })} ${ofPlaces}`;
}

function line(values) {
  return Object.entries(values)
    .map(([name, value]) => `${name} ${value}`)
    .join(' ');
}
