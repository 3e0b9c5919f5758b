import type { CommandDefinition } from './definition.ts';

/** What runs the program by the clock. */
export const CRON_COMMANDS: readonly CommandDefinition[] = [
  {
    name: 'cron',
    group: 'set-up',
    summary: 'ready lines for crontab or systemd that remind of what is due',
    args: '',
    writes: false,
    examples: [
      ['bathbook cron', 'the crontab line of a reminder at 07:30'],
      ['bathbook cron --remind 16:45 --workdays --mail bench@example.org', 'Monday to Friday, by mail'],
      ['bathbook cron --systemd', 'a service and a timer instead, and the two commands that install them'],
    ],
    options: [
      { flags: '--remind HH:MM', about: 'when (default: 07:30)' },
      { flags: '--workdays', about: 'Monday to Friday alone' },
      { flags: '--mail ADDRESS', about: 'whom cron mails (default: you, on this computer)' },
      { flags: '--systemd', about: 'a service and a timer for systemd' },
    ],
    notes:
      'Changes nothing: it prints what you install. The lines run bathbook due --once-a-day on the ledger of this call, and print nothing while nothing is due. Cron keeps the time of the computer; the timer keeps that of the shop.',
    load: () => import('./cron.ts'),
  },
];
