import type { CommandDefinition } from './definition.ts';

/** What runs the program by the clock. */
export const CRON_COMMANDS: readonly CommandDefinition[] = [
  {
    name: 'cron',
    group: 'set-up',
    summary: 'ready lines for crontab or systemd: the reminder and the nightly report',
    args: '',
    writes: false,
    examples: [
      ['bathbook cron', 'crontab lines: what is due at 07:30, the report at 18:30'],
      ['bathbook cron --report off --mail bench@example.org', 'the reminder alone, by mail'],
      ['bathbook cron --systemd', 'services and timers instead, and the two commands that install them'],
    ],
    options: [
      { flags: '--remind HH:MM', about: 'when to say what is due, or off (default: 07:30)' },
      { flags: '--report HH:MM', about: 'when to report, or off (default: 18:30)' },
      { flags: '--out FILE', about: 'write the report there each time (default: print it)' },
      { flags: '--workdays', about: 'Monday to Friday alone' },
      { flags: '--mail ADDRESS', about: 'whom cron mails (default: you, on this computer)' },
      { flags: '--systemd', about: 'services and timers for systemd' },
    ],
    notes:
      'Changes nothing: it prints what you install. The lines run bathbook due --once-a-day, which prints nothing while nothing is due, and bathbook report, on the ledger of this call. Cron keeps the time of the computer; timers keep that of the shop.',
    load: () => import('./cron.ts'),
  },
];
