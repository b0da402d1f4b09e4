/** One stretch in which a station of one place is held. */
export interface Block {
  readonly start: number;
  /** End of the work and of any rest on the station. */
  readonly end: number;
  readonly setting: number;
  readonly hasSetUp: boolean;
  readonly activity: number;
}

/** What stands on the stations that remember what they are set to, by time. */
export interface StationBlocks {
  /** Undefined for a row that remembers nothing. */
  of(row: number): readonly Block[] | undefined;
  add(row: number, block: Block): void;
  remove(row: number, start: number): void;
  clear(): void;
  /** The first work behind a moment that relies on how the station stands then; -1 when there is none. */
  relyingAfter(row: number, slot: number): number;
  /** Pieces of work that neither find their station set as they want it nor set it up. */
  unsetCount(firstSetting: ArrayLike<number>): number;
}

/**
 * Makes the record of what stands on each station.
 *
 * @param rows  rows of stations that remember what they are set to
 * @returns     the record, empty
 * @source      arithmetic
 */
export function makeStationBlocks(rows: readonly number[]): StationBlocks {
  const blocks = new Map<number, Block[]>(rows.map((row) => [row, []]));
  return {
    of: (row) => blocks.get(row),
    add: (row, block) => {
      const list = blocks.get(row);
      if (list === undefined) return;
      let at = list.length;
      while (at > 0 && list[at - 1]!.start > block.start) at--;
      list.splice(at, 0, block);
    },
    remove: (row, start) => {
      const list = blocks.get(row);
      const at = list?.findIndex((b) => b.start === start) ?? -1;
      if (at >= 0) list!.splice(at, 1);
    },
    relyingAfter: (row, slot) => {
      const next = blocks.get(row)?.find((b) => b.start >= slot && b.setting >= 0);
      return next === undefined || next.hasSetUp ? -1 : next.activity;
    },
    unsetCount: (firstSetting) => {
      let count = 0;
      for (const [row, list] of blocks) {
        let setting = firstSetting[row]!;
        for (const b of list) {
          if (b.setting < 0) continue;
          if (b.setting !== setting && !b.hasSetUp) count++;
          setting = b.setting;
        }
      }
      return count;
    },
    clear: () => {
      for (const list of blocks.values()) list.length = 0;
    },
  };
}
