import { useState } from 'react';
import { handOver } from './build-acts.ts';

/** Hands an instrument over; asks once more, because a health note goes for good with it. */
export function HandOver({ build, name }: { readonly build: string; readonly name: string }) {
  const [isSure, setSure] = useState(false);
  if (!isSure)
    return (
      <button type="button" className="btn" onClick={() => setSure(true)}>
        Hand over
      </button>
    );
  return (
    <span className="acts">
      <span>The instrument goes home; a health note kept for its maker is deleted for good.</span>
      <button type="button" className="btn" onClick={() => void handOver(build)}>
        Hand over {name}
      </button>
      <button type="button" className="btn" onClick={() => setSure(false)}>
        Not yet
      </button>
    </span>
  );
}
