/**
 * Tries every n-th change of a room only, counted over all its files in the order in which they are made: `MUTATE_EVERY=n`, and
 * `MUTATE_FROM` the first, 0 where it is not given. The others are told as ones that do not compile, which no score counts.
 */
const every = Number(process.env.MUTATE_EVERY ?? 1);
const from = Number(process.env.MUTATE_FROM ?? 0);

const sample = {
  async init() {},
  group: async (mutants) => [mutants.map(({ id }) => id)],
  check: async (mutants) =>
    Object.fromEntries(
      mutants.map(({ id }) => [
        id,
        Number(id) % every === from
          ? { status: 'passed' }
          : { status: 'compileError', reason: 'not in the sample' },
      ]),
    ),
};

/** The steps at which `tests/torture` kills the process are not in the shipped program, and only whole processes can die at them. */
const killPoints = {
  shouldIgnore: (path) =>
    path.isLabeledStatement() && path.node.label.name === 'KILL_POINT'
      ? 'not in the shipped program'
      : undefined,
};

export const strykerPlugins = [
  { kind: 'Checker', name: 'sample', factory: () => sample },
  { kind: 'Ignore', name: 'kill-points', value: killPoints },
];
