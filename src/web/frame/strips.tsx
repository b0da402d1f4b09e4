import { useSyncExternalStore } from 'react';
import { Link } from 'wouter';
import { useKept } from '../keeping/kept.ts';
import { useGuardedAt } from '../record/guard.ts';
import { dismissRefusals, recordView, subscribeRecord } from '../record/record.ts';

/** Strips across the top: what cannot be kept, what the server refused, what this door does not take. */
export function Strips() {
  return (
    <>
      <NotKeptStrip />
      <RefusedStrip />
      <DoorStrip />
    </>
  );
}

/** When this device cannot keep anything. */
function NotKeptStrip() {
  const { isKept } = useKept();
  if (isKept) return null;
  return (
    <p className="strip" role="alert">
      Not kept. Write it down, then free space.
    </p>
  );
}

/** The last thing entered here that was refused, until it was read. */
function RefusedStrip() {
  const { refusals } = useSyncExternalStore(subscribeRecord, recordView);
  const last = refusals.at(-1);
  if (last === undefined) return null;
  const more = new Set(refusals).size - 1;
  return (
    <p className="strip" role="alert">
      {last}
      {more > 0 && ` ${more} more ${more === 1 ? 'entry was' : 'entries were'} refused for another reason.`}{' '}
      <button type="button" className="btn sm" onClick={dismissRefusals}>
        Read
      </button>
    </p>
  );
}

/** The teacher at the plain door is told before trying what it does not take. */
function DoorStrip() {
  const guardedAt = useGuardedAt();
  const { me } = useSyncExternalStore(subscribeRecord, recordView);
  if (guardedAt === undefined || me.role !== 'teacher') return null;
  return (
    <p className="strip is-door">
      This is the plain door: look and note here. To sign, to give keys, and to change limits and settings,
      open <a href={new URL(window.location.pathname, guardedAt).href}>{guardedAt}</a> or use the machine
      Bracewright runs on. <Link href="/tablets">How a device comes to trust it</Link>
    </p>
  );
}
