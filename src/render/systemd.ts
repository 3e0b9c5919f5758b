/** A service and a timer for systemd's manager of a user. */
import { type Job, shellWord } from './crontab.ts';
import { printable } from './printable.ts';

export interface Unit {
  file: string;
  text: string;
}

/** Whose baths, and where; without a zone, the clock is that of the computer. */
interface Bench {
  name: string;
  zone: string | undefined;
}

/**
 * What closes the service in. Nothing here needs a mount or user namespace, which a user's manager may not be allowed to
 * make: there the reminder would fail instead of reading the ledger and keeping what it told in the state folder.
 * MemoryDenyWriteExecute is left out because Node compiles at run time.
 */
const HARDENING = [
  'NoNewPrivileges=yes',
  'LockPersonality=yes',
  'RestrictAddressFamilies=AF_UNIX',
  'RestrictNamespaces=yes',
  'RestrictRealtime=yes',
  'RestrictSUIDSGID=yes',
  'SystemCallArchitectures=native',
];

/** The service that runs the job once, and the timer that starts it. */
export function systemdUnits(job: Job, bench: Bench): [service: Unit, timer: Unit] {
  const name = unitName(job.what, bench.name);
  return [
    { file: `${name}.service`, text: service(job, bench) },
    { file: `${name}.timer`, text: timer(job, bench) },
  ];
}

function service(job: Job, bench: Bench): string {
  const { words, answersUpTo, isShared = false } = job;
  const answers = Array.from({ length: answersUpTo }, (_, i) => i + 1);
  return lines(
    '[Unit]',
    `Description=${described(job.what, bench.name)}`,
    '',
    '[Service]',
    'Type=oneshot',
    `ExecStart=${words.map(execWord).join(' ')}`,
    ...(answers.length > 0 ? [`SuccessExitStatus=${answers.join(' ')}`] : []),
    `UMask=${isShared ? '0022' : '0077'}`,
    ...HARDENING,
  );
}

function timer({ what, hour, minute, workdays }: Job, { name, zone }: Bench): string {
  const time = [hour, minute, 0].map((part) => String(part).padStart(2, '0')).join(':');
  return lines(
    '[Unit]',
    `Description=${described(what, name)}, by the clock`,
    '',
    '[Timer]',
    `OnCalendar=${[workdays ? 'Mon..Fri' : '', '*-*-*', time, zone ?? ''].filter(Boolean).join(' ')}`,
    'Persistent=true',
    '',
    '[Install]',
    'WantedBy=timers.target',
  );
}

/** `again` is the command that prints these units, word by word; the first of two commands stores what it prints. */
export function systemdText(units: readonly Unit[], again: readonly string[]): string {
  const parts = units.map(({ file, text }) => `# ${file}\n${text}`);
  return [...installation(units, again).map((command) => `#   ${command}`), '', parts.join('\n')].join('\n');
}

/** The two commands that install the units: one stores them, one starts the timer. */
export function installation(units: readonly Unit[], again: readonly string[]): [string, string] {
  const folder = `\${XDG_CONFIG_HOME:-$HOME/.config}/systemd/user`;
  const split = `awk '/^# bathbook-[a-z0-9-]*[.](service|timer)$/ {file = $2} file {print > file}'`;
  const timers = units.map(({ file }) => file).filter((file) => file.endsWith('.timer'));
  return [
    `(mkdir -p "${folder}" && cd "${folder}" && ${again.map((word) => shellWord(word)).join(' ')} | ${split})`,
    `systemctl --user daemon-reload && systemctl --user enable --now ${timers.join(' ')}`,
  ];
}

/** Another shop has another name, so that the timers of two shops can stand side by side. */
function unitName(what: Job['what'], shop: string): string {
  const slug = shop
    .normalize('NFKD')
    .toLowerCase()
    .replaceAll(/\p{M}/gu, '')
    .replaceAll(/[^a-z0-9]+/g, '-')
    .slice(0, 40)
    .replaceAll(/^-|-$/g, '');
  return [`bathbook-${what}`, slug].filter(Boolean).join('-');
}

const WORDS: Record<Job['what'], string> = { due: 'what is due', report: 'the nightly report' };

/** Never ends with the name: a backslash at its end would join the next line to it. */
function described(what: Job['what'], shop: string): string {
  const name = printable(shop).replaceAll('%', '%%');
  return `${name ? `Baths of ${name}` : 'Baths'}: ${WORDS[what]}`;
}

/** A word of ExecStart. The first is taken as it is, in the others `$` would begin a variable. */
function execWord(word: string, place: number): string {
  if (/^[\w./@:+,-]+$/.test(word)) return word;
  const quoted = word.replaceAll(/["\\]/g, '\\$&').replaceAll('%', '%%');
  return `"${place === 0 ? quoted : quoted.replaceAll('$', '$$$$')}"`;
}

function lines(...all: string[]): string {
  return all.map((line) => `${line}\n`).join('');
}
