import type { ReactNode } from 'react';

/** A button that cannot be used yet is dashed and says why. */
export function WaitButton(props: {
  readonly isReady: boolean;
  readonly why: string;
  readonly isMain?: boolean;
  readonly isSmall?: boolean;
  readonly onPress: () => void;
  readonly children: ReactNode;
}) {
  const size = props.isSmall ? ' sm' : '';
  return (
    <button
      type="button"
      className={`btn${size}${props.isReady ? (props.isMain ? ' go' : '') : ' wait'}`}
      aria-disabled={!props.isReady}
      title={props.isReady ? undefined : props.why}
      onClick={() => {
        if (props.isReady) props.onPress();
      }}
    >
      {props.children}
    </button>
  );
}
