import type { CallKind } from './rows.ts';
import type { WiringBranch } from './types.ts';

/** dead: a thin line. live: a thick one. carries: two lines, current should flow here. */
export type Tone = 'dead' | 'live' | 'carries';
export interface Wire {
  tone: Tone;
  points: [x: number, y: number][];
}
export interface DrawnPart {
  branch: WiringBranch;
  x: number;
  y: number;
  upright: boolean;
  tone: Tone;
  lifted: boolean;
  clamp: boolean;
  /** Share of the likeliest suspect that lies here. */
  suspect: number | undefined;
}
/** What stands on a point's own line. */
export interface PointMark {
  kind: CallKind | 'post' | 'joint';
  x: number;
  y: number;
}
export type CaptionKind = 'head' | 'part' | 'lead' | 'call' | 'marked' | 'post';
export interface Caption {
  kind: CaptionKind;
  x: number;
  y: number;
  lines: string[];
}
/** The picture as data, in px of the page. */
export interface Drawing {
  width: number;
  height: number;
  wires: Wire[];
  symbols: DrawnPart[];
  marks: PointMark[];
  texts: Caption[];
  /** From a point to the words about it. */
  leaders: { x1: number; x2: number; y: number }[];
}
