// Made by tools/make_contract.mjs from docs/reference; not edited by hand.

export type Trouble = { error: { kind: "bad_input" | "not_found" | "not_allowed" | "too_large" | "too_many" | "busy" | "store"; /** One sentence that a person can act on */ text: string; }; };

export type Me = { name: string; role: "look" | "tap" | "own"; };

export type BurnLine = { id: string; title: string; state: "live" | "closed"; begun: string | null; ended: string | null; pit: string | null; /** The call in a breath, as last made; null before there is one */ sentence: string | null; };

export type Place = { x_m: number | null; y_m: number | null; z_m: number | null; };

export type Spot = { name: string; channel: string; role: "air" | "dial" | "food" | "outside" | "wind" | "drive" | "set"; grate: string | null; x_m: number | null; y_m: number | null; z_m: number | null; piece?: string | null; };

export type Stint = { index: number; setting: string; from: string; to: string | null; };

export type Pit = { /** The name it is stored under; a pit drawn under a new name is a new pit */ id: string; name: string; width_m: number | null; depth_m: number | null; height_m: number | null; grates: Array<{ name: string; height_m: number; }>; adjustments: Array<{ name: string; positions: string[]; }>; /** With its unit, as "275 F" */ set_point: string | null; spots: Spot[]; };

export type NewBurn = { id: string; title: string; unit: "F" | "C"; /** With its unit, as "10 F" */ matters: string; /** Id of a pit */ pit: string | null; spots?: Spot[]; /** The setting at the start */ setting?: string; begun?: string; };

export type BurnChange = { title?: string; matters?: string; set_point?: string; spots?: Spot[]; close?: boolean; };

export type Burn = { id: string; title: string; state: "live" | "closed"; unit: "F" | "C"; matters: number; begun: string | null; ended: string | null; pit: Pit | null; spots: Spot[]; stints: Stint[]; taps: Tap[]; };

export type NewTap = { id: string; what: "lid" | "lid closed" | "split" | "fuel" | "gust" | "rain" | "moved" | "note" | "changed" | "reading"; at: string; until?: string | null; /** For "changed": the new setting */ setting?: string | null; spot?: string | null; text?: string | null; /** For "reading": with its unit, as "263 F" */ value?: string | null; };

export type Tap = { id: string; what: string; at: string; until: string | null; setting: string | null; spot: string | null; text: string | null; value: string | null; /** Name of the person */ by: string; undone: boolean; };

export type NewBookEntry = { /** Made by the client, so that a repeat is harmless */ id: string; what: "reading" | "rule" | "action" | "signature" | "take back"; /** Initials; the server puts the visitor's name behind them */ by: string; /** When it was written down; null or a moment to come: when it arrives */ at?: string | null; /** Of which piece; null: all. Needed for "reading" and "rule" */ piece?: string | null; /** What was done, the rules chosen (names apart by commas), or a remark beside a reading or a signature */ text?: string | null; /** For "reading": with its unit, as "38 F" */ temperature?: string | null; /** Number of the entry of the same kind that this one replaces; the old one stays in sight */ corrects?: number | null; /** For "take back": number of the entry that was wrong */ of?: number | null; /** For "take back": why */ why?: string | null; };

export type Fire = { as_of: string | null; state: "waiting" | "heating" | "settling" | "counting" | "closed" | "paused" | "spoiled" | "out"; /** The state as one short word or phrase to print large */ word: string; /** Seconds until the next thing to do; null: cannot be told */ countdown_s: number | null; /** The one next action */ next: string; next_at: string | null; next_setting: string | null; soaked: boolean | null; setting: string | null; counting_s: number | null; needed_s: number | null; /** Questions that are settled, in words */ clear: string[]; /** Questions that are open, in words */ open: string[]; /** Fewest further stints that would settle what is open; null: probably never */ stints_more: number | null; trouble: Array<{ kind: string; text: string; where: string | null; }>; sentence: string | null; latest: Latest[]; };

export type Latest = { channel: string; spot: string | null; role: string; at: string | null; /** In the unit asked for */ value: number | null; /** Against the level of the same moment; null where it is not an air spot */ runs: number | null; };

export type Samples = { unit: "F" | "C"; channels: Array<{ channel: string; /** Unix seconds, middle of the bucket */ t: number[]; low: Array<number | null>; high: Array<number | null>; }>; };

export type Readings = { readings: Array<{ channel: string; at: string; value: number; }>; unit?: "F" | "C"; };

export type PictureName = "lay.svg" | "call.svg" | "strip.svg" | "share.png";

export type CallNumberOrNull = number | null;

export type CallMoment = string;

export type CallMomentOrNull = CallMoment | null;

export type CallState = "heating" | "settling" | "counting" | "closed" | "paused" | "spoiled";

export type CallCall = "clear" | "no odds" | "too close" | "not yet" | "muddled";

export type CallSettingEstimate = { value: CallNumberOrNull; low: CallNumberOrNull; high: CallNumberOrNull; /** the part of the range that is the thermometer's own error, 95 % */ probe_uncertainty: number | null; };

export type CallBySetting = Record<string, CallSettingEstimate>;

export type CallChange = { /** setting */ from: string; /** setting */ to: string; /** to minus from */ value: CallNumberOrNull; /** of the single 95 % range */ low: CallNumberOrNull; high: CallNumberOrNull; /** of the range that the word is read from: joint over the table and all looks */ word_low: CallNumberOrNull; word_high: CallNumberOrNull; call: CallCall; /** for 'not yet' and 'too close': fewest further stints that would probably settle it; null above 12 and for the other words */ needs_stints: number | null; /** for 'muddled': indices into trouble */ because: number[]; /** nothing was repeated: how exactly a setting comes back was not measured */ borrowed: boolean; };

export type CallReadingChange = { /** setting */ from: string; /** setting */ to: string; /** to minus from */ value: CallNumberOrNull; /** of the single 95 % range */ low: CallNumberOrNull; high: CallNumberOrNull; };

export type CallQuantity = { by_setting: CallBySetting; changes: CallChange[]; };

export type CallCycle = { /** null where there is no steady cycle */ period_s: number | null; /** mean peak to trough */ size: number; };

export type CallDocument = { /** title of the burn */ burn: string; /** of every temperature and difference in the document */ unit: "F" | "C"; /** the smallest difference worth acting on */ matters: number; confidence: 0.95; soaked_at: CallMomentOrNull; /** of the dial, else of the level */ swing: { /** null where there is no steady cycle */ period_s: number | null; size: number; by_channel: Record<string, CallCycle>; /** of the level, over what counts at each setting; without those never counted */ by_setting: Record<string, CallCycle>; }; stints: Array<{ index: number; setting: string; from: CallMoment; to: CallMoment; counted_from: CallMomentOrNull; counted_to: CallMomentOrNull; excluded_s: number; state: CallState; why: string; }>; /** openings, marked or suggested, and how each spot came back */ lids: Array<{ from: CallMoment; until: CallMoment; clear: CallMoment; marked: boolean; depth: number; stint: number | null; within: number; spots: Array<{ spot: string; back_s: number | null; short: CallNumberOrNull; slow: boolean; }>; }>; level: CallQuantity; spots: Array<{ spot: string; channel: string; by_setting: CallBySetting; changes: CallChange[]; reading_changes: CallReadingChange[]; }>; tilts: Array<{ axis: "left-right" | "front-back" | "top-bottom"; extent_m: number; by_setting: CallBySetting; changes: CallChange[]; }>; spread: CallQuantity; /** dial minus level; null without a dial */ dial_gap: CallQuantity | null; /** settings between which the dial gap changes clearly */ dial_means: Array<{ setting: string; dial: number; chamber_air: { value: number; low: number; high: number; }; }>; trouble: Array<{ kind: "lid" | "probe" | "weather" | "soak" | "order" | "clock"; where: string | null; at: CallMomentOrNull; /** index into stints; null where it is not about one */ stint: number | null; /** the channel it is compared with */ against: string | null; text: string; }>; /** null unless the call was asked for as known at a moment */ live: { state: CallState; counting_s: number; needed_s: number; next: string; soaked: boolean; change_at: CallMomentOrNull; change_to: string | null; } | null; sentence: string; explain: string[]; };

export type LayRange = { value: number | null; low: number | null; high: number | null; };

export type LayGrid = Array<Array<number | null>>;

export type LayExtreme = { x: number; y: number; value: number; sd: number; chance: number; within_m: number; };

export type LayUsable = { x_low: number; x_high: number; y_low: number; y_high: number; share: number; chance: number; };

export type LayGrate = { grate: string; z: number; x0: number; y0: number; width: number; depth: number; x: number[]; y: number[]; value: LayGrid; sd: LayGrid; hottest: LayExtreme; coolest: LayExtreme; within: { band: number; around: "level" | "set point"; center: number; share: number; low: number; high: number; }; usable: null | LayUsable; };

export type LayDials = { wanted: number; answers: Array<{ where: string; why: string; set: null | LayRange; outside: number | null; ratio: null | LayRange; per_outside: number | null; place_sd: number | null; text: string; }>; };

export type LayUniformity = { spots: number; fewer_than_nine: boolean; iec_60068_3_5: { achieved: LayRange; gradient: LayRange; worst_fluctuation: number | null; indicated_error: null | LayRange; }; ams2750: { worst: LayRange; class: number | null; class_sure: number | null; }; astm_e145: { percent: LayRange; type: "IIA" | "IA" | "IIB" | "IB" | null; outside_assumed: boolean; }; caution: string; };

export type LayDocument = { burn: string; unit: "F" | "C"; confidence: number; band: number; sentence: string; settings: Array<{ setting: string; level: LayRange; grates: LayGrate[]; within: { band: number; around: "level" | "set point"; center: number; share: number; }; set_point_for: null | LayDials; uniformity: null | LayUniformity; }>; differences: Array<{ from: string; to: string; grates: Array<{ grate: string; value: LayGrid; sd: LayGrid; }>; }>; spots: Array<{ spot: string; channel: string; grate: string; x: number; y: number; z: number; in_level: boolean; by_setting: Record<string, { value: number | null; sd: number | null; }>; }>; at: Array<{ x: number; y: number; grate: string; setting: string; value: number; sd: number; low: number; high: number; air: LayRange; }>; next_spots: Array<{ grate: string; x: number; y: number; variance_fall: number; }>; leave_one_out: Array<{ spot: string; setting: string; measured: number; predicted: number; sd: number; low: number; high: number; }>; scales: { size: LayRange; tilt: LayRange; local: LayRange; length_x_m: LayRange; length_y_m: LayRange; length_z_m: LayRange; own_share: LayRange; }; unplaced: string[]; uncounted: string[]; notes: string[]; };

export type BookRow = { at: number; dwell_s: number; held_s: number; met_at: string | null; };

export type BookRule = { name: string; kind: "cooking" | "zone" | "come-up" | "hold" | "cooling"; title: string; document: string; edition: string; where: string; known: "read" | "second-hand" | "from memory"; };

export type BookLethality = { rule: string; row_met: null | BookRow; nearest: null | BookRow; credited_at: string | null; log_reduction: number | null; target_log: number | null; rows: BookRow[]; };

export type BookLimited = { minutes: number; unread_min: number; most_min: number; rule: string | null; limit_min: number | null; margin_min: number | null; verdict: "met" | "not met" | "open" | "withheld" | "no rule" | "no record"; };

export type BookStep = { from: number; to: number; limit_min: number; began: string | null; reached: string | null; minutes: number | null; margin_min: number | null; verdict: "met" | "not met" | "open" | "withheld" | "no rule" | "no record"; };

export type BookPiece = { piece: string; cut: string | null; kg: number | null; intact: boolean | null; rule: string | null; rules: BookRule[]; rule_problems: string[]; probes: number; on: string | null; off: string | null; written: Array<{ temperature: number; text: string | null; by: string | null; }>; cold: number | null; highest: number | null; highest_at: string | null; final: number | null; final_at: string | null; tolerance: number | null; unchecked: boolean; left_out: number; unread_min: number; row_met: null | BookRow; log_reduction: number | null; credited_at: string | null; minutes_40_140F: number; come_up_50_130F_min: number; zone: BookLimited; come_up: { minutes: number; unread_min: number; most_min: number; rule: string | null; limit_min: number | null; margin_min: number | null; verdict: "met" | "not met" | "open" | "withheld" | "no rule" | "no record"; seen_from_start: boolean; reached_top: boolean; }; cooking: null | { rule: string; row_met: null | BookRow; nearest: null | BookRow; credited_at: string | null; log_reduction: number | null; target_log: number | null; rows: BookRow[]; verdict: "met" | "not met" | "open" | "withheld" | "no rule" | "no record"; withheld_for: null | "poultry" | "not intact" | "intact not told"; met_as_read: boolean; }; under_165F: BookLethality[]; hold: Array<{ minutes: number; unread_min: number; most_min: number; limit: number; rule: string | null; since: string | null; lowest: number | null; verdict: "met" | "not met" | "open" | "withheld" | "no rule" | "no record"; }>; cooling: null | { rule: string; chosen: boolean; too_fast: boolean; steps: BookStep[]; }; margins: { zone_min: number | null; come_up_min: number | null; cooking_min: number | null; hold_min: number | null; }; marked: Array<{ text: string | null; from: string; until: string; start: number | null; end: number | null; rows_met_before: number[]; }>; by: string | null; actions: string[]; signatures: Array<{ by: string; at: string; text: string | null; later_records: number; later_samples: boolean; }>; };

export type BookDocument = { title: string | null; unit: "F" | "C"; pieces: BookPiece[]; instruments: Array<{ channel: string; piece: string; at: number; add: number; tolerance: number | null; checked: string | null; from: string | null; }>; entries: Array<{ number: number; what: string; piece: string | null; at: string; by: string | null; temperature: number | null; text: string | null; replaced_by: string | null; taken_back: boolean; why: string | null; }>; changes: Array<{ at: string; by: string | null; of: string; was: string; now: string; }>; cautions: string[]; };
