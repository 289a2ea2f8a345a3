/** Random tests draw the same cases in every run, so that one that fails does so for everybody; RAILWRIGHT_SEED=N draws others. */
import fc from 'fast-check';

fc.configureGlobal({ seed: Number(process.env.RAILWRIGHT_SEED ?? 20261126) });
