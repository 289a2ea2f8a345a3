/**
 * Mixed-integer programmes with a proof: the HiGHS solver (MIT licence), compiled to WebAssembly, loaded only
 * when first needed. A solve is synchronous and blocks its thread: in the page it belongs in a worker.
 */
import type { Highs } from 'highs';

/** A row of coefficients over some columns, with its bounds (infinite where there is none). */
export interface MilpRow {
  readonly columns: readonly number[];
  readonly values: readonly number[];
  readonly lower: number;
  readonly upper: number;
}

/** Minimise cost . x over whole numbers lower <= x <= upper that keep every row within its bounds. */
export interface MilpModel {
  readonly cost: readonly number[];
  readonly lower: readonly number[];
  readonly upper: readonly number[];
  readonly rows: readonly MilpRow[];
}

/** Where a search may stop before it has proved anything: branches for a repeatable answer, seconds as a backstop. */
export interface MilpLimits {
  readonly nodes: number;
  readonly seconds: number;
  /** Seconds since whenever; left out, the machine's own clock. */
  readonly clock?: () => number;
}

/**
 * `optimal`: proved best. `infeasible`: proved that nothing satisfies the rows. `limit`: stopped; `values` is the
 * best found, if any. `bound` is a proved lower bound on the objective (-Infinity where none was reached).
 */
export interface MilpResult {
  readonly status: 'optimal' | 'infeasible' | 'limit';
  readonly values?: readonly number[];
  readonly objective?: number;
  readonly bound: number;
  /** Branches that were looked at. */
  readonly nodes: number;
  readonly limit?: string;
}

export interface MilpSolver {
  solve(model: MilpModel, limits?: Pick<MilpLimits, 'nodes' | 'seconds'>): MilpResult;
}

/** What a search may take in all unless the caller asks otherwise. */
export const MILP_LIMITS: MilpLimits = { nodes: 20000, seconds: 30 };

/**
 * A solver with one bound over all its solves: each may take half of what those before it left, so that a hard one leaves
 * some to the rest. Once the time is used up each gives `limit` without a search.
 */
export function bounded(solver: MilpSolver, { nodes, seconds, clock = () => Date.now() / 1000 }: MilpLimits): MilpSolver {
  const limit = `stopped after ${nodes} branches or ${seconds} s in all`;
  const begun = clock();
  let used = 0;
  return {
    solve(model) {
      const left = seconds - (clock() - begun);
      if (!(left > 0)) return { status: 'limit', bound: -Infinity, nodes: 0, limit };
      const result = solver.solve(model, { nodes: Math.ceil((nodes - used) / 2), seconds: left / 2 });
      used = Math.min(nodes, used + result.nodes);
      return result.status === 'limit' ? { ...result, limit } : result;
    },
  };
}

let loading: Promise<MilpSolver> | undefined;

/** The solver, loaded once. Rejects where the WebAssembly cannot be fetched or compiled; a later call tries again. */
export function loadMilp(): Promise<MilpSolver> {
  loading ??= import('highs')
    .then(async ({ default: load }) => wrap(await load()))
    .catch((error: unknown) => {
      loading = undefined;
      throw error;
    });
  return loading;
}

function wrap(highs: Highs): MilpSolver {
  return { solve: (model, limits = MILP_LIMITS) => solve(highs, model, limits) };
}

function solve(highs: Highs, model: MilpModel, limits: Pick<MilpLimits, 'nodes' | 'seconds'>): MilpResult {
  const { cost, lower, upper, rows } = model;
  const starts = [0];
  for (const row of rows) starts.push(starts[starts.length - 1] + row.columns.length);
  const data = {
    numCols: cost.length,
    numRows: rows.length,
    colCost: cost,
    colLower: lower,
    colUpper: upper,
    rowLower: rows.map((r) => r.lower),
    rowUpper: rows.map((r) => r.upper),
    matrix: {
      format: 'csr' as const, numRows: rows.length, numCols: cost.length, starts,
      indices: rows.flatMap((r) => r.columns), values: rows.flatMap((r) => r.values),
    },
    integrality: cost.map(() => highs.constants.variableType.integer),
  };
  return highs.withModel(data, (task): MilpResult => {
    task.options.set({
      output_flag: false, random_seed: 1, mip_rel_gap: 0, mip_abs_gap: 1e-7, mip_feasibility_tolerance: 1e-9,
      mip_max_nodes: limits.nodes, time_limit: limits.seconds,
    });
    task.run();
    const status = task.getModelStatus();
    const { modelStatus, solutionStatus } = highs.constants;
    const nodes = Math.max(0, Number(task.info.get('mip_node_count')));
    if (status === modelStatus.infeasible) return { status: 'infeasible', bound: Infinity, nodes };
    const found = task.info.get('primal_solution_status') === solutionStatus.feasible;
    const bound = Number(task.info.get('mip_dual_bound'));
    if (!found) return { status: 'limit', bound, nodes, limit: `stopped after ${limits.nodes} branches or ${limits.seconds} s` };
    const values = Array.from(task.getSolution().colValue, Math.round);
    const objective = values.reduce((sum, v, i) => sum + v * cost[i], 0);
    if (status === modelStatus.optimal) return { status: 'optimal', values, objective, bound: objective, nodes };
    return {
      status: 'limit', values, objective, bound, nodes,
      limit: status === modelStatus.timeLimit ? `stopped after ${limits.seconds} s` : `stopped after ${limits.nodes} branches`,
    };
  });
}
