import { useState } from 'react';

/** What the teacher shows at a step: a picture, or a short clip where it is none. */
export function OwnPicture({ hash, name }: { readonly hash: string; readonly name: string }) {
  const [isClip, setClip] = useState(false);
  const address = `/api/files/${hash}`;
  return isClip ? (
    <video className="op-photo" controls src={address} aria-label={`${name}, a clip of the teacher`}>
      <track kind="captions" />
    </video>
  ) : (
    <img
      className="op-photo"
      src={address}
      alt={`${name} as the teacher shows it`}
      onError={() => setClip(true)}
    />
  );
}
