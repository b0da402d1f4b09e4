/** One way through the book. It appears in the frame when its page works. */
export interface Way {
  readonly name: string;
  readonly href: string;
  /** The way is the present one when the address begins with this. */
  readonly under: string;
}

/** The ways that exist, in the order of the frame. */
export const ways: readonly Way[] = [{ name: 'Pattern', href: '/pattern', under: '/pattern' }];
