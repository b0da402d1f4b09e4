import type { CompiledClass } from './compile.ts';

/** A row that cannot be used for a while in this run only. */
export interface Closed {
  readonly row: number;
  readonly from: number;
  readonly to: number;
}

/** Who is using what in every slot, while a list is decoded. */
export interface RowUse {
  /** Minutes of each cell in which a row has a place left: a window with too few is passed over at once. */
  readonly room: Int32Array;
  /** As it is before anything is planned. */
  reset(): void;
  /** Last slot of a stretch in which the row has fewer free places than asked for (one), -1 when there is none. */
  lastConflict(row: number, from: number, to: number, places?: number): number;
  /** Whether the row is used beyond its places somewhere. */
  isOver(row: number, from: number, to: number): boolean;
  /** Uses one place of the row. */
  take(row: number, from: number, to: number): void;
  /** Gives one place of the row back. */
  give(row: number, from: number, to: number): void;
  /** Leaves the row no place. */
  close(closed: Closed): void;
}

/**
 * Makes the count of who uses what.
 *
 * @param compiled  the compiled class
 * @returns         the count, to be reset before use
 * @source          arithmetic
 */
export function makeRowUse(compiled: CompiledClass): RowUse {
  const { capacity, baseUse } = compiled;
  const { cellOf, cellCount, baseRoom } = compiled.cells;
  const slots = compiled.grid.slotCount;
  const use = new Uint8Array(baseUse.length);
  const room = new Int32Array(baseRoom.length);
  return {
    room,
    reset: () => {
      use.set(baseUse);
      room.set(baseRoom);
    },
    lastConflict: (row, from, to, places = 1) => {
      const full = capacity[row]! - places + 1;
      const offset = row * slots;
      for (let s = Math.min(to, slots) - 1; s >= from; s--) if (use[offset + s]! >= full) return s;
      return -1;
    },
    isOver: (row, from, to) => {
      const full = capacity[row]!;
      for (let s = row * slots + from; s < row * slots + Math.min(to, slots); s++)
        if (use[s]! > full) return true;
      return false;
    },
    take: (row, from, to) => {
      const full = capacity[row]!;
      const offset = row * slots;
      const roomOffset = row * cellCount;
      const last = Math.min(to, slots);
      for (let s = from; s < last; s++) if (++use[offset + s]! === full) room[roomOffset + cellOf[s]!]!--;
    },
    give: (row, from, to) => {
      const full = capacity[row]!;
      const offset = row * slots;
      const roomOffset = row * cellCount;
      const last = Math.min(to, slots);
      for (let s = from; s < last; s++) if (use[offset + s]!-- === full) room[roomOffset + cellOf[s]!]!++;
    },
    close: ({ row, from, to }) => {
      const full = capacity[row]!;
      for (let s = from; s < to && s < slots; s++) {
        if (use[row * slots + s]! < full) room[row * cellCount + cellOf[s]!]!--;
        use[row * slots + s] = full;
      }
    },
  };
}
