import type { CommandDefinition } from './definition.ts';

/** The program in the shell, and on paper. */
export const SHELL_COMMANDS: readonly CommandDefinition[] = [
  {
    name: 'completion',
    group: 'set-up',
    summary: 'completion for your shell, with the names of your ledger',
    args: '[shell]',
    writes: false,
    examples: [
      ['bathbook completion bash', 'prints what bash reads; the lines below install it'],
      ['bathbook completion zsh', 'for zsh'],
      ['bathbook completion fish', 'for fish'],
    ],
    options: [],
    notes: [
      'One line installs it, for new terminals, in bash, zsh or fish:',
      '  echo \'eval "$(bathbook completion bash)"\' >> ~/.bashrc',
      '  echo \'eval "$(bathbook completion zsh)"\' >> ~/.zshrc',
      '  bathbook completion fish > ~/.config/fish/completions/bathbook.fish',
      'The tab key then completes commands, options, and the baths, parts, resins, solvents, containers, cases and latest entries of the ledger. It reads the beginning and the end of the ledger alone.',
    ].join('\n'),
    load: () => import('./completion.ts'),
  },
  {
    name: 'docs',
    group: 'set-up',
    summary: 'the manual: all commands in one text, as a man page or Markdown',
    args: '[format]',
    writes: false,
    examples: [
      ['bathbook docs markdown', 'the reference, for a browser or a wiki'],
      ['bathbook docs man', 'the man page, which a global installation brings along: man bathbook'],
    ],
    options: [],
    load: () => import('./docs.ts'),
  },
];
