// What the Lay screen reads of the lay's document.

import type { Ranged } from '../units/degrees';

/** What to dial for the wanted heat at one place; `text` says it, `why` says why it cannot be told. */
export interface DialAnswer {
  where: string;
  set: Ranged | null;
  why: string | null;
  text: string;
}

export interface LaySetting {
  setting: string;
  level: Ranged;
  within: { band: number; around: string; center: number | null; share: number | null } | null;
  set_point_for?: { wanted: number; answers: DialAnswer[] } | null;
}

export interface LayPlace extends Ranged {
  x: number;
  y: number;
  grate: string;
  setting: string;
}

export interface LayDocument {
  unit: 'F' | 'C';
  sentence: string;
  settings: LaySetting[];
  at?: LayPlace[];
  next_spots: { grate: string; x: number; y: number; variance_fall: number }[];
}
