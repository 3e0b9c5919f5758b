/** What of an installation somebody should look at. */
import type { Doctor, Finding } from '../render/doctor.ts';

/** Free space that is soon used up. */
const LITTLE_BYTES = 50_000_000;
/** Clocks differ by so much without anybody being at fault. */
const LITTLE_S = 120;
/** By package.json. */
const LEAST_NODE = [20, 19] as const;

/** @param doctor - all but its findings */
export function findingsOf(doctor: Omit<Doctor, 'findings'>): Finding[] {
  return [
    ...ledgerFindings(doctor),
    ...permissionFindings(doctor),
    ...lockFindings(doctor),
    ...clockFindings(doctor),
    ...diskFindings(doctor),
    ...nodeFindings(doctor),
  ];
}

function ledgerFindings({ ledger }: Omit<Doctor, 'findings'>): Finding[] {
  const { sound, bytes, problems, ends, path } = ledger;
  const missing = problems.some(({ code }) => code === 'no-such-file');
  if (missing)
    return [
      fault('There is no ledger at that place', 'make one: bathbook setup; or name one: --ledger FILE'),
    ];
  if (bytes === null)
    return [fault('The ledger cannot be read', `what the system says: bathbook check ${path}`)];
  if (!sound) return [fault('The ledger holds errors', 'every one with its place: bathbook check')];
  const torn =
    ends === 'torn'
      ? [
          notice(
            'The last line is cut short, as by a power cut',
            'the next entry moves it aside: nothing else is touched',
          ),
        ]
      : [];
  const warned =
    problems.length > 0 ? [notice('The ledger holds warnings', 'each with its place: bathbook check')] : [];
  return [...torn, ...warned];
}

function permissionFindings({ ledger }: Omit<Doctor, 'findings'>): Finding[] {
  const { permissions } = ledger;
  if (!permissions) return [];
  const { others_may_write, anybody_may_replace, may_write, own } = permissions;
  return [
    ...(may_write
      ? []
      : [
          notice(
            'You cannot write to the ledger or its folder',
            'reading works; to log, ask whoever owns it for the right to write',
          ),
        ]),
    ...(others_may_write
      ? [
          notice(
            'Others on this computer may change the ledger',
            'if that is not meant: chmod go-w on the file',
          ),
        ]
      : []),
    ...(anybody_may_replace
      ? [
          notice(
            'Anybody on this computer may replace the ledger',
            'if that is not meant: chmod o-w on its folder',
          ),
        ]
      : []),
    ...(own
      ? []
      : [notice('The ledger belongs to another user', 'fine for a shared shop, as long as both can write')]),
  ];
}

function lockFindings({ lock }: Omit<Doctor, 'findings'>): Finding[] {
  if (!lock || lock.stale) return [];
  return [
    notice(
      'The ledger is locked now',
      'an entry is being written, or a program of another computer left the lock; try again in a moment',
    ),
  ];
}

function clockFindings({ clock, ledger }: Omit<Doctor, 'findings'>): Finding[] {
  const { behind_s, shop_zone } = clock;
  const behind =
    behind_s !== null && behind_s > LITTLE_S
      ? [
          notice(
            `The clock is ${spoken(behind_s)} before the last entry, which does not count yet`,
            'set the clock of the computer, or correct the entry: bathbook entries --last 3 --as-of 2100-01-01',
          ),
        ]
      : [];
  const zone =
    shop_zone === null && ledger.baths !== null
      ? [
          notice(
            'The ledger names no time zone, so times are those of the computer',
            'add shop.timezone to its head, like America/Halifax',
          ),
        ]
      : [];
  return [...behind, ...zone];
}

function spoken(seconds: number): string {
  if (seconds < 5400) return `${Math.round(seconds / 60)} minutes`;
  if (seconds < 172_800) return `${Math.round(seconds / 3600)} hours`;
  return `${Math.round(seconds / 86_400)} days`;
}

function diskFindings({ disk }: Omit<Doctor, 'findings'>): Finding[] {
  const free = disk.ledger_free_bytes;
  if (free === null || free >= LITTLE_BYTES) return [];
  return [
    notice(
      'The disk of the ledger is nearly full',
      'make room: an entry that does not fit is refused, never cut short',
    ),
  ];
}

function nodeFindings({ program }: Omit<Doctor, 'findings'>): Finding[] {
  const [major = 0, minor = 0] = program.node.split('.').map(Number);
  const [least, leastMinor] = LEAST_NODE;
  if (major > least || (major === least && minor >= leastMinor)) return [];
  return [
    notice(
      `Node ${program.node} is older than bathbook is tested with`,
      `install Node ${least}.${leastMinor} or later`,
    ),
  ];
}

function fault(text: string, help: string): Finding {
  return { severity: 'fault', text, help };
}

function notice(text: string, help: string): Finding {
  return { severity: 'notice', text, help };
}
