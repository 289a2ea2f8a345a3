/** What is done on other threads, by key: what each job is given, its progress, and its result. */
import type { Design, TrialBend } from '../../geometry/design/schema';
import type { FieldError } from '../../geometry/errors';
import type { Parts } from '../../geometry/parts/types';
import type { BoardSize } from '../../geometry/search/family';
import type { Variant } from '../../geometry/search/member';
import type { SolveProgress, Solution, LeverChoice } from '../../geometry/search/solve';
import type { Proposal } from '../../geometry/search/proposals';
import type { Target } from '../../geometry/search/targets';
import type { DrawingRead } from '../../geometry/shape/drawing';
import type { DrawingChoice, DrawingFitted } from '../../geometry/shape/drawingFit';
import type { DrawingLie } from '../../geometry/shape/drawingLines';
import type { OffsetColumn, OffsetTable } from '../../geometry/shape/offsets';
import type { FitMiss } from '../../geometry/shape/offsetsFit';
import type { CommaQuestion, OffsetsError, OffsetsReading, OffsetsReadOptions } from '../../geometry/shape/offsetsRead';
import type { BodyFaults } from '../../geometry/shape/hullIn/body';
import type { Silhouette } from '../../geometry/shape/hullIn/cuts';
import type { HullFit } from '../../geometry/shape/hullIn/hullIn';
import type { PoseAsked } from '../../geometry/shape/hullIn/pose';
import type { TableUnit } from '../../geometry/shape/lengths';
import type { OutlineEnds } from '../../geometry/shape/outlineFit';
import type { Said } from '../../geometry/said';
import type { Readings } from '../../geometry/trust/readings';
import type { AsBuilt, ToleranceBands, ToleranceMethod } from '../../geometry/trust/types';
import type { Body, Finding, Mesh, Plan, SectionDrawing, Side } from '../../geometry/types';
import type { Paper, PaperEntry, PaperOptions } from '../papers';
import type { PagePicture } from '../papers/pdf/pages';

/** Where a step of 16 bits leads, mm: `along` the board and the run, from ALONG_FROM (src/work/bodies.ts) steps below none; `across` and up, from the centreline and the base. */
export interface Grid {
  readonly along: number;
  readonly across: number;
}

/** A body as it is drawn: its corners on the grid of all its board's bodies, four figures each: x, y, z and run. */
export interface DrawnBody extends Omit<Body, 'mesh'> {
  readonly mesh: Pick<Mesh, 'indices' | 'bevel'> & { readonly grid: Grid; readonly corners: Int16Array; readonly normals?: Int8Array };
  /** The vertex pairs of its ink lines. */
  readonly ink: Uint32Array;
}

/** A plan, its bodies, and how long planBoard took, ms. */
interface Planned {
  readonly plan: Plan;
  readonly bodies: readonly DrawnBody[];
  readonly ms: number;
}

/** The section at run s of a plan. */
export interface DrawnAt {
  readonly s: number;
  readonly drawing: SectionDrawing;
}

/** How far work of several parts is, 0 to 1, and what is being made now. */
export interface StageOfWork {
  readonly share: number;
  readonly title: string;
}

/** Paper options that can be sent to another thread, and what the papers are made of. */
export type PaperWish = Pick<PaperOptions, 'date' | 'paper' | 'units' | 'step' | 'kerf' | 'shop' | 'address' | 'trust'>;
type PaperBasis = PaperWish & { readonly plan: Plan; readonly parts: Parts };

/** A paper that could not be made. */
export interface PaperFault {
  readonly title: string;
  readonly message: Said;
}

/** The two sides of a board as measured; a side without readings is left out. */
interface Built {
  readonly starboard?: AsBuilt;
  readonly port?: AsBuilt;
}

/** A board of the family by its size; `variant` is null while it is not worked out. */
export interface Member {
  readonly size: Required<BoardSize>;
  readonly variant: Variant | null;
}

/** A table of offsets as it was read. */
export interface OffsetsRead {
  readonly table: OffsetTable;
  readonly reading: OffsetsReading;
  readonly notes: readonly string[];
}

/** The board fitted to a table and how far its rows lie off, or why it would be none. */
export type OffsetsFit =
  | { readonly ok: true; readonly design: Design; readonly met: boolean; readonly misses: Partial<Record<OffsetColumn, FitMiss>> }
  | { readonly ok: false; readonly errors: readonly FieldError[] };

/** A table read and fitted, or its errors: those listed, and how many more there are. */
export type TableFitted =
  | { readonly ok: true; readonly read: OffsetsRead; readonly fit: OffsetsFit }
  | { readonly ok: false; readonly errors: readonly OffsetsError[]; readonly more: number; readonly question?: CommaQuestion; readonly reading?: OffsetsReading };

/** A board in a file of triangles, and how it is taken: what is left out is guessed. */
type HullFile = PoseAsked & { readonly file: File };

/** Such a board as it was read and laid. */
export interface HullRead {
  readonly unit: TableUnit;
  /** The unit that the file states. */
  readonly stated?: TableUnit;
  readonly length: number;
  readonly width: number;
  readonly depth: number;
  readonly triangles: number;
  readonly faults: BodyFaults;
  /** Shells within it that were left out. */
  readonly inner: number;
  readonly silhouette: Silhouette;
}

interface Kind<G extends object, R, P = never> {
  readonly given: G;
  readonly result: R;
  readonly progress: P;
}

interface Kinds {
  /** The plan under a dragging hand: sampled wider, painted and not rendered (draft.ts), with the section under the cursor. `cursor`: where that was put, run; NaN at the widest point. */
  readonly draft: Kind<Kinds['plan']['given'] & { readonly cursor: number }, Planned & { readonly drawn: DrawnAt }>;
  /** `trials`: the trial bends of the batch, by which it is planned. */
  readonly plan: Kind<{ readonly design: Design; readonly trials?: readonly TrialBend[] }, Planned>;
  /** `built`: the sides as measured; cut list and steps are then each side's own. */
  readonly parts: Kind<{ readonly plan: Plan; readonly built?: Built }, Parts, StageOfWork>;
  readonly paperList: Kind<PaperBasis, readonly PaperEntry[]>;
  /** `zip`: the name of the file the papers are packed into, instead of coming one by one. */
  readonly papers: Kind<PaperBasis & { readonly which: readonly string[]; readonly zip?: string }, { readonly papers: readonly Paper[]; readonly faults: readonly PaperFault[] }, StageOfWork>;
  /** A PDF of ours as pictures of its pages, to be looked at before it is saved. */
  readonly pages: Kind<{ readonly pdf: Uint8Array }, readonly PagePicture[]>;
  /** Progress: the share done, 0 to 1. */
  readonly bands: Kind<{ readonly plan: Plan; readonly method: ToleranceMethod; readonly runs?: number; readonly seed?: number }, ToleranceBands, number>;
  readonly built: Kind<{ readonly plan: Plan; readonly record: Readings }, Built>;
  /** What readings that are not taken yet would move, each against the record there is, on one side. */
  readonly asked: Kind<{ readonly plan: Plan; readonly record: Readings; readonly side: Side; readonly ways: readonly Readings[] }, readonly Pick<AsBuilt, 'changes' | 'flags'>[]>;
  /** Works out the boards that are not yet. Progress: all boards so far. */
  readonly family: Kind<{ readonly design: Design; readonly boards: readonly Member[] }, readonly Member[], readonly Member[]>;
  readonly targets: Kind<{ readonly design: Design; readonly targets: readonly Target[]; readonly levers: readonly LeverChoice[] }, Solution, SolveProgress>;
  /** Progress: changes tried so far. */
  readonly offers: Kind<{ readonly plan: Plan; readonly finding: Finding }, { readonly offers: readonly Proposal[]; readonly tried: number }, number>;
  /** Progress: the table, once it is read. */
  readonly offsets: Kind<
    { readonly text: string; readonly options: OffsetsReadOptions; readonly tolerance: number; readonly ends: OutlineEnds; readonly design: Design },
    TableFitted, OffsetsRead
  >;
  /** A drawing from its file. */
  readonly drawing: Kind<{ readonly name: string; readonly file: File; readonly kind: 'svg' | 'dxf' }, DrawingRead>;
  readonly drawingFit: Kind<{ readonly design: Design; readonly choices: readonly DrawingChoice[]; readonly lie: DrawingLie; readonly tolerance: number }, DrawingFitted>;
  readonly hullRead: Kind<HullFile, HullRead>;
  readonly hullFit: Kind<HullFile & { readonly design: Design }, HullFit, StageOfWork>;
}

export type JobKey = keyof Kinds;
export type Given<K extends JobKey> = Kinds[K]['given'];
export type Progress<K extends JobKey> = Kinds[K]['progress'];
export type Result<K extends JobKey> = Kinds[K]['result'];

/** Why a job has no result; `error` where one thing it was given is at fault. */
export interface Failure {
  readonly message: Said;
  readonly error?: FieldError;
}
