// What the Lay screen reads of the lay's document. Keys that an older server does not give are optional.

import type { Ranged } from '../units/degrees';

export interface LayPlace {
  x: number;
  y: number;
  grate: string;
  setting: string;
  value: number | null;
  sd: number | null;
}

export interface SetPointFor extends Ranged {
  wanted: number;
}

export interface LaySetting {
  setting: string;
  level: Ranged;
  grates: { grate: string; x: number[]; y: number[] }[];
  within: { band: number; share: number | Ranged | null } | null;
  set_point_for?: SetPointFor | null;
}

export interface LayDocument {
  unit: 'F' | 'C';
  settings: LaySetting[];
  at?: LayPlace[];
  next_spots?: { grate: string; x: number; y: number; variance_fall?: number }[];
}
