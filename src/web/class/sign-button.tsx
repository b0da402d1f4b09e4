import type { ClassState } from '../../course/class-state.ts';
import type { SignDue } from '../../course/tonight.ts';
import { useGuardedAt } from '../record/guard.ts';
import { openBeforeSign, signHold } from './acts.ts';
import { buildName, operationName } from './class-names.ts';

/** Signs a hold point; where a list belongs to it, not before the list is ticked. */
export function SignButton({ state, due }: { readonly state: ClassState; readonly due: SignDue }) {
  const open = openBeforeSign(due, state);
  const what = `${operationName(state, due.hold.op)}, ${buildName(state, due.build)}`;
  const guardedAt = useGuardedAt();
  if (guardedAt !== undefined)
    return (
      <button type="button" className="btn sm wait" disabled aria-label={`Sign over https: ${what}`}>
        Sign over https
      </button>
    );
  return open > 0 ? (
    <button type="button" className="btn sm wait" disabled aria-label={`${open} of the list open: ${what}`}>
      {open} of the list open
    </button>
  ) : (
    <button
      type="button"
      className="btn sm"
      aria-label={`Sign ${what}`}
      onClick={() => void signHold(due, state)}
    >
      Sign
    </button>
  );
}
