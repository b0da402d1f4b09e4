/** A photo or short clip of a build, typed by its content. */
export interface StoredFileTable {
  readonly id: string;
  readonly stream: string;
  readonly person: string;
  readonly media_type: string;
  readonly bytes: Uint8Array;
  readonly made_ms: number;
}
