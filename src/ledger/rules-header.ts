import type { Finding } from './finding.ts';
import type { BathHeader, Header, PartHeader, SolventHeader } from './header.ts';
import type { Catalogue } from './names.ts';
import { washBaths } from './names.ts';
import { didYouMean } from './near.ts';

/** What one schema for each key cannot say about the head. */
export function checkHeaderRules(header: Header, catalogue?: Catalogue): Finding[] {
  return [
    ...someBaths(header),
    ...Object.entries(header.baths).flatMap(([name, bath]) => checkBath(name, bath)),
    ...Object.entries(header.solvents ?? {}).flatMap(([name, solvent]) =>
      checkSolvent(name, solvent, catalogue),
    ),
    ...Object.entries(header.parts ?? {}).flatMap(([name, part]) => checkPart(name, part, catalogue)),
    ...checkDefaults(header, catalogue),
    ...checkLimits(header),
  ];
}

function someBaths(header: Header): Finding[] {
  if (Object.keys(header.baths).length > 0) {
    return [];
  }
  const help = 'Add the baths, like dirty: {mark_ml: 4000, length_mm: 260, width_mm: 180, freeboard_mm: 50}';
  return [{ code: 'empty', message: 'Cannot take baths: {}, it names no bath', help, path: ['baths'] }];
}

function checkBath(name: string, bath: BathHeader): Finding[] {
  if (bath.tub_ml === undefined || bath.tub_ml >= bath.mark_ml) {
    return [];
  }
  const message = `Cannot take tub_ml: ${bath.tub_ml}, the brim of the bath "${name}" would be below its mark of ${bath.mark_ml} mL`;
  return [
    {
      code: 'brim-below-mark',
      message,
      help: '"tub_ml" is the volume up to the brim, "mark_ml" up to the mark',
      path: ['baths', name, 'tub_ml'],
    },
  ];
}

function checkSolvent(name: string, solvent: SolventHeader, catalogue: Catalogue | undefined): Finding[] {
  const { ipa_wt_pct, ipa_vol_pct } = solvent;
  if (ipa_wt_pct !== undefined && ipa_vol_pct !== undefined) {
    return [
      {
        code: 'not-together',
        message: `Cannot use "ipa_wt_pct" and "ipa_vol_pct" together for the solvent "${name}"`,
        help: 'Keep the one that is on the label; most labels of 70 % and 91 % mean vol%',
        path: ['solvents', name, 'ipa_vol_pct'],
        atKey: true,
      },
    ];
  }
  const shipped = catalogue === undefined || Object.hasOwn(catalogue.solvents, name);
  if (shipped || ipa_wt_pct !== undefined || ipa_vol_pct !== undefined) {
    return [];
  }
  const message = `Cannot use the solvent "${name}" without its strength: neither "ipa_wt_pct" nor "ipa_vol_pct" is given`;
  return [
    {
      code: 'not-one-of',
      message,
      help: 'Add what is on the label, like ipa_vol_pct: 91',
      path: ['solvents', name],
    },
  ];
}

function checkPart(name: string, part: PartHeader, catalogue: Catalogue | undefined): Finding[] {
  const path = ['parts', name];
  if (part.wall_mm !== undefined && part.shape !== 'hollow') {
    const message = `Cannot use "wall_mm" for the part "${name}" of shape ${part.shape}`;
    return [
      {
        code: 'not-together',
        message,
        help: 'Write shape: hollow, or take "wall_mm" out',
        path: [...path, 'wall_mm'],
        atKey: true,
      },
    ];
  }
  const shipped = catalogue !== undefined && Object.hasOwn(catalogue.parts, name);
  if (shipped || part.volume_ml !== undefined || part.area_cm2 !== undefined) {
    return [];
  }
  const message = `Cannot use the part "${name}" without its size: neither "volume_ml" nor "area_cm2" is given`;
  return [{ code: 'not-one-of', message, help: 'Add the volume of one part, like volume_ml: 32', path }];
}

function checkDefaults(header: Header, catalogue: Catalogue | undefined): Finding[] {
  const { resin, minutes } = header.shop.defaults ?? {};
  const found: Finding[] = [];
  const resins = [...Object.keys(header.resins ?? {}), ...Object.keys(catalogue?.resins ?? {})];
  if (resin !== undefined && catalogue !== undefined && !resins.includes(resin)) {
    found.push({
      code: 'unknown-resin',
      message: `Cannot find the resin "${resin}" in the head or the catalogue`,
      help:
        didYouMean(resin, resins) ??
        `Add it under "resins:", like ${resin}: {density_g_ml: 1.11, viscosity_mpa_s: 400}`,
      path: ['shop', 'defaults', 'resin'],
    });
  }
  const baths = washBaths(header);
  if (minutes !== undefined && baths.length > 0 && minutes.length !== 2 && minutes.length !== baths.length) {
    const message = `Cannot match minutes with ${minutes.length} ${minutes.length === 1 ? 'value' : 'values'} to the baths ${baths.join(', ')}`;
    found.push({
      code: 'wrong-count',
      message,
      help: 'Write one value for each bath, like minutes: [5, 5]',
      path: ['shop', 'defaults', 'minutes'],
    });
  }
  return found;
}

function checkLimits(header: Header): Finding[] {
  const { dirty_resin, clean_resin, dirty_water, clean_water } = header.limits ?? {};
  return Object.entries({ dirty_resin, clean_resin, dirty_water, clean_water }).flatMap(([key, limits]) => {
    if (limits === undefined || (limits[0] <= limits[1] && limits[1] <= limits[2])) {
      return [];
    }
    const message = `Cannot take ${key}: [${limits.join(', ')}], the limits soon, change and never must not fall`;
    return [
      {
        code: 'falling-limits',
        message,
        help: 'Write them in order, like [8, 10, 20]',
        path: ['limits', key],
      },
    ];
  });
}
