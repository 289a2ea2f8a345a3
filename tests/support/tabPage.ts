/** What a tab of tests/support/tabs.ts runs. */
export * from '../../src/link/boardLink';
export * from '../../src/rooms/share/open';
export * from '../../src/state/boardFile';
export * from '../../src/state/database';
export * from '../../src/state/design';
export * from '../../src/state/keep';
export * from '../../src/state/starters';
export * from '../../src/state/storage';
