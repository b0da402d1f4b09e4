import { WaitButton } from '../parts/wait-button.tsx';
import { type Draft, isEmptyState } from './draft.ts';

/** Making, taking back, going back and forward, looking back. */
export function RevisionActs(props: {
  readonly number: number;
  readonly draft: Draft;
  readonly onMake: () => void;
  readonly onDrop: () => void;
  readonly onUndo: () => void;
  readonly onRedo: () => void;
  readonly onHistory: () => void;
}) {
  const { draft } = props;
  const isDraft = !isEmptyState(draft.now);
  return (
    <>
      <div className="acts noprint">
        <WaitButton isReady={isDraft} why="Nothing is typed yet" isMain onPress={props.onMake}>
          Make revision {props.number}
        </WaitButton>
        <WaitButton isReady={isDraft} why="There is no draft" onPress={props.onDrop}>
          Take back draft
        </WaitButton>
      </div>
      <div className="acts noprint">
        <WaitButton isReady={draft.past.length > 0} why="No step to go back" isSmall onPress={props.onUndo}>
          Undo
        </WaitButton>
        <WaitButton
          isReady={draft.future.length > 0}
          why="No step to do again"
          isSmall
          onPress={props.onRedo}
        >
          Redo
        </WaitButton>
        <button type="button" className="btn sm" onClick={props.onHistory}>
          History
        </button>
      </div>
    </>
  );
}
