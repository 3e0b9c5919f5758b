/**
 * The shop's wall clock. Node reads the zone from TZ, which costs under a millisecond where one Intl formatter with a
 * zone costs thirteen; so the shop's zone is set there once, and Date's local fields are the shop's.
 */
import { EXIT, Fault } from './fault.ts';

/** The zone that Date speaks, once this computer is seen to know it. */
let spoken: string | undefined;

const UTC_NAMES = /^(?:utc|gmt|etc\/.*|zulu|uct)$/i;

/**
 * Makes Date speak the shop's local time from now on.
 *
 * @throws Fault, configuration, when this computer does not know the zone; Node would quietly take UTC for it
 */
export function useZone(zone: string | undefined): void {
  if (zone === undefined || (zone === spoken && process.env.TZ === zone)) return;
  process.env.TZ = zone;
  const winter = new Date(2026, 0, 1).getTimezoneOffset();
  const summer = new Date(2026, 6, 1).getTimezoneOffset();
  if (winter !== 0 || summer !== 0 || UTC_NAMES.test(zone) || isKnown(zone)) {
    spoken = zone;
    return;
  }
  throw new Fault(
    [
      {
        code: 'unknown-timezone',
        message: `Cannot use the time zone "${zone}", this computer does not know it`,
        help: 'give shop.timezone a name of the zone database, like America/Halifax or Europe/Lisbon',
        severity: 'error',
      },
    ],
    EXIT.configuration,
  );
}

function isKnown(zone: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: zone });
    return true;
  } catch {
    return false;
  }
}

/** Those that an event can be of, see `parseTime`. */
export const LEDGER_YEARS = '2000 to 2199';

export function isLedgerYear(year: number): boolean {
  return year >= 2000 && year <= 2199;
}

/**
 * Now, by the clock of this computer.
 *
 * @throws Fault, configuration, when it was never set: many begin at 1970
 */
export function ownClockMs(): number {
  const nowMs = Date.now();
  if (isLedgerYear(new Date(nowMs).getFullYear())) return nowMs;
  const message = `Cannot go by the clock of this computer, it says ${readable(nowMs)}, allowed is ${LEDGER_YEARS}`;
  const help = 'set the clock; or look at the ledger with: bathbook baths --as-of 2026-11-20';
  throw new Fault([{ code: 'configuration', message, help, severity: 'error' }], EXIT.configuration);
}

/** RFC 3339 with the local offset; seconds always, since a ledger line has them. */
export function rfc3339(ms: number): string {
  const at = new Date(ms);
  return `${day(at)}T${clockTime(at)}:${two(at.getSeconds())}${offset(at)}`;
}

/** As people read it: 2026-11-20 17:30. */
export function readable(ms: number): string {
  const at = new Date(ms);
  return `${day(at)} ${clockTime(at)}`;
}

/** A day: Fri 2026-11-20. */
export function readableDay(ms: number): string {
  return readableWithDay(ms).slice(0, -6);
}

/** The weekday before it: Fri 2026-11-20 17:30. */
export function readableWithDay(ms: number): string {
  return `${['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'][new Date(ms).getDay()]} ${readable(ms)}`;
}

function day(at: Date): string {
  return `${String(at.getFullYear()).padStart(4, '0')}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
}

function clockTime(at: Date): string {
  return `${two(at.getHours())}:${two(at.getMinutes())}`;
}

function offset(at: Date): string {
  const minutes = -at.getTimezoneOffset();
  const size = Math.abs(minutes);
  return `${minutes < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

function two(number: number): string {
  return String(number).padStart(2, '0');
}
