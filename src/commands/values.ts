/** Values of options and arguments, read or refused. */
import type { Shop } from '../bath/shop.ts';
import { didYouMean, near } from '../ledger/near.ts';
import { type Kind, parseQuantity, UNITS } from '../substance/units.ts';
import type { Options } from './definition.ts';
import { type Fault, usage } from './fault.ts';
import { typedList } from './typed-list.ts';

/** A quantity in its base unit. @throws Fault, usage */
export function quantity(text: string, kind: Kind, name: string): number {
  const parsed = parseQuantity(text, kind);
  if ('value' in parsed) return parsed.value;
  const meant = parsed.unknownUnit && didYouMean(parsed.unknownUnit, Object.keys(UNITS[kind]));
  throw usage(`${parsed.message} (${name})`, meant ? `${meant} ${parsed.help}` : parsed.help);
}

/** The quantity of an option, as the one key of an event; nothing when it was not given. */
export function quantityOption<K extends string>(
  options: Options,
  option: string,
  kind: Kind,
  key: K,
): { [key in K]?: number } {
  const text = options[option];
  if (typeof text !== 'string') return {};
  return { [key]: round(quantity(text, kind, flag(option))) } as { [key in K]?: number };
}

/** Four decimals: finer than any bench measures, and free of noise from unit factors. */
export function round(value: number): number {
  return Number(value.toFixed(4));
}

/** A list like `5,5` or `5 5`; each item in its base unit. @throws Fault, usage */
export function quantityList(text: string, kind: Kind, name: string): number[] {
  const items = typedList(text);
  if (!Array.isArray(items)) {
    const either = items.either.map((one) => `"${one}"`).join(' or ');
    throw usage(`Cannot tell what "${text}" means, ${either} (${name})`, `type one of them: ${either}`);
  }
  return items.map((item) => round(quantity(item, kind, name)));
}

/** `--drained` for `drained`, `--dry-run` for `dryRun`. */
function flag(option: string): string {
  return `--${option.replaceAll(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;
}

type Named = 'bath' | 'solvent' | 'resin' | 'part';

/** The name as the shop writes it: as typed, or the only one that differs in capitals alone. */
export function named(name: string, among: ReadonlyMap<string, unknown>): string | undefined {
  if (among.has(name)) return name;
  const alike = [...among.keys()].filter((one) => one.toLowerCase() === name.toLowerCase());
  return alike.length === 1 ? alike[0] : undefined;
}

/** A name that the shop knows. @throws Fault, usage, with the nearest names */
export function known(name: string, what: Named, among: ReadonlyMap<string, unknown>): string {
  const found = named(name, among);
  if (found !== undefined) return found;
  throw unknownName(name, what, among);
}

/** The fault of a name that the shop does not know: the nearest, else all there are and where to add one. */
export function unknownName(
  name: string,
  what: Named,
  among: ReadonlyMap<string, unknown>,
  retry?: string,
): Fault {
  const meant = near(name, among.keys());
  const names = `${what === 'bath' ? 'the baths are' : `known ${what}s are`} ${[...among.keys()].join(', ')}`;
  const add = what === 'bath' ? '' : `; a new one goes under "${what}s:" in the head of the ledger`;
  const again = retry ? ` Then the load is: ${retry}` : '';
  return usage(
    `Cannot find a ${what} named "${name}"`,
    meant ? `did you mean "${meant}"?${again}` : `${names}${add}`,
  );
}

/** `--solvent`, when given. @throws Fault, usage, for one the shop does not know */
export function solventOption(options: Options, shop: Shop): { solvent?: string } {
  return typeof options.solvent === 'string'
    ? { solvent: known(options.solvent, 'solvent', shop.solvents) }
    : {};
}
