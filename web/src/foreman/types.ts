// What the foreman's engine gives, as package cab tells it.
import type { Bundle, Scene, Told } from "../types";

export type Value = string | Value[] | { [key: string]: Value };
export interface Kind { kind: string; choices?: string[]; of?: string }
export interface Key { path: string; name: string; must?: boolean; kinds: Kind[]; only?: string[]; keys?: Key[] }
export interface Section { name: string; tables: Key[] }
export interface Misread extends Told { file: string; line: number; table: string; index: number; at: string }
export interface FormFile { name: string; kind: string }
export interface JobForm { values: { [table: string]: Value }; files: FormFile[]; faults: Misread[] }
export interface Change { kind: "set" | "add" | "drop"; table: string; index: number; key?: string; value?: Value | null }
export interface Edited { bundle: Bundle; lost: number; form: JobForm }
export interface Difference { table: string; id: string; key: string; mine: string; theirs: string }
export interface Block { kind: string; text?: string; severity?: string; table?: { heads: { text: string; right?: boolean }[]; rows: string[][]; planned?: number[] } }
export interface Paper { blocks: Block[] }
export interface View { east: number; north: number; scale: number; width: number; height: number }
export interface Under { id: string; image: string; width: number; height: number; matrix: [number, number, number, number, number, number] }
export interface SiteMap { view: View; scene: Scene; under: Under[] }
export interface Picked { kind: "" | "dig" | "setup" | "benchmark"; id: string; east: string; north: string }
export interface Drawn { id: string; edit: Change; told: string }
export interface Pasted { heads: string[]; means: string[]; rows: string[][]; comma: boolean }
export interface BuiltPoint { label: string; wanted: string; height: string; off: string; told: string; verdict: string; tag: string; time: string; person: string; size: string }
export interface BuiltDig { id: string; kind: string; verdict: string; told: string; points: BuiltPoint[] }
export interface AsBuilt {
  digs: BuiltDig[];
  over: { dig: string; depth: string; remedy: string; done: boolean; who: string }[];
  holds: { dig: string; hold: string; state: "passed" | "refused" | "open"; by: string; agency: string }[];
  tickets: { id: string; for: string; dig: string; words: string; hours: string; before: string; after: string; who: string }[];
  signed: { id: string; time: string; day: string; person: string; kind: string; text: string }[];
  shots: Scene | null; closes: Scene | null;
  photos: { digest: string; of: string; dig: string; words: string; who: string }[];
  left: string;
}
export interface Beam { tag: string; state: string; ended: boolean; numbers: boolean; head: string; do: string[]; odds: string[]; digs: { dig: string; told: string }[]; next: string[]; close: string }
export interface Watch { beams: Beam[] }
