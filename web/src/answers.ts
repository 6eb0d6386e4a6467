// What the engine gives; package cab writes this file (go test ./cab -update).
export interface TagLine {
  tag: string; state: string; text: string; rests: string;
}
export interface Face {
  text: string; before: string; over: string; under: string; after: string;
}
export interface Live {
  tag: string; rod: string; face: Face;
}
export interface Taped {
  from: string; face: Face;
}
export interface Worked {
  live: Live | null; taped: Taped | null;
}
export interface DigLine extends Worked {
  id: string; kind: string; words: string; tag: string; several: boolean; verdict: string; told: string; stops: number;
}
export interface DueLine {
  dig: string; tag: string; text: string;
}
export interface Warning {
  rule: string; severity: string; text: string;
}
export interface LogLine {
  id: string; time: string; day: string; person: string; kind: string; text: string;
}
export interface CheckBy {
  millis: number; time: string;
}
export interface Basis {
  revision: number; records: number; head: string; setup: string; tag: string; tie: string; check_by: CheckBy;
}
export interface Proposed {
  tag: string; where: string; rests: string; east: string; north: string;
}
export interface NewChoices {
  lasers: string[]; rods: string[]; receivers: string[]; benchmarks: string[]; known: string[]; tag: string; proposed: Proposed[];
}
export interface Change {
  dig: string; text: string;
}
export interface Home {
  name: string; drawing: string; drawing_revision: string; language: string; tags: TagLine[]; digs: DigLine[]; next: string; due: DueLine[]; asides: number; open: Warning[]; log: LogLine[]; basis: Basis; choices: NewChoices; changes: Change[];
}
export interface Shot {
  verdict: string; text: string; told: string; time: string; person: string;
}
export interface Point extends Worked {
  part: string; name: string; station: string; label: string; what: string; trace: string; bottom: string; cut: string; judged: string; judgement: string; within: string; shot: Shot | null;
}
export interface Item {
  pen: string; points: number[]; closed?: boolean; fill?: number; text?: string; size?: number; anchor?: string; upward?: boolean; strong?: boolean;
}
export interface Scene {
  width: number; height: number; items: Item[];
}
export interface TieAsk {
  words: Record<string, string>; text: string;
}
export interface Stand {
  dig: string; kind: string; words: string; tag: string; tags: string[]; rests: string; why: string; stops: Warning[]; cautions: Warning[]; rod: string; tolerance: string; points: Point[]; section: Scene | null; plan: Scene | null; steps: string[]; told: string; hole: string; tie: TieAsk | null; basis: Basis;
}
export interface Drafted {
  id: string; record: string; seq: number; told: string[]; shot: Shot | null; slip: string;
}
export interface Clamped extends Worked {
  for: string;
}
export interface SetUp extends Drafted {
  hi: string; sigma: string; serves: string[]; notes: string[]; strip: Clamped[];
}
export interface Planned {
  for: string; sum: string;
}
export interface DigAtRisk {
  dig: string; closed: boolean; concrete: boolean; out: string; by: string; told: string;
}
export interface BeamWatch {
  tag: string; state: string; ended: boolean; numbers: boolean; head: string; do: string[]; point: string; odds: string[]; digs: DigAtRisk[]; next: string[]; close: string; now: boolean; more: number; by: string;
}
export interface Watch {
  beams: BeamWatch[]; basis: Basis;
}
export interface Proof {
  point: string; expected: string; told: string;
}
export interface Close {
  tag: string; point: string; mark: boolean; expected: string; words: Record<string, string>;
}
export interface Proving {
  tag: string; marks: string[]; asked: number; dial: string; rods: Proof[]; read: Close[];
}
export interface Spot {
  name: string; east: string; north: string; where: string;
}
export interface Places {
  spots: Spot[]; scene: Scene | null;
}
export interface Sum {
  planned: Planned;
}
export interface Proposal extends Proposed {
  strip: Sum[];
}
export interface Reach {
  needs: string; scene: Scene | null; count: number; proposed: Proposal[];
}
export interface CheckedPoint {
  dig: string; point: string; tag: string; height: string; shot: Shot; chance: string;
}
export interface Checked {
  points: CheckedPoint[]; open: number;
}
export interface Left {
  good: string[]; open: string[]; no_shot: string[]; due: DueLine[]; handed: string;
}
export interface QuantityRow {
  dig: string; bank: string; loose: string; concrete: string; backfill: string;
}
export interface Quantities {
  needs: string; digs: QuantityRow[]; total: QuantityRow; loads: string;
}
export interface Found extends Warning {
  dig: string; tag: string;
}
export interface Map {
  scene: Scene | null;
}
export interface Told {
  code: string; key: string; message: string; remedy: string; place: string;
}
export interface Progress {
  stage: string; done: number; of: number;
}
export interface Bundle {
  format: number; main: string; files: Record<string, string>;
}
