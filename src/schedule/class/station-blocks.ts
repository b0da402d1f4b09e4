/** One stretch in which a station of one place is held. */
export interface Block {
  readonly start: number;
  /** End of the work and of any rest on the station. */
  readonly end: number;
  readonly setting: number;
  readonly hasSetUp: boolean;
}

/** What stands on the stations that remember what they are set to, by time. */
export interface StationBlocks {
  /** Undefined for a row that remembers nothing. */
  of(row: number): readonly Block[] | undefined;
  add(row: number, block: Block): void;
  remove(row: number, start: number): void;
  clear(): void;
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
    clear: () => {
      for (const list of blocks.values()) list.length = 0;
    },
  };
}
