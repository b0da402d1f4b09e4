import type { BuildFacts } from '../../course/build-facts.ts';
import { HOUR_MS } from '../../quantity/time.ts';
import { noteMoment } from './acts.ts';
import { sinceWords } from './clock-words.ts';
import { GlueLeft } from './glue-left.tsx';

/** Words under which the moments stand in the record. */
const DRY_RUN = 'dry run begun';
const GLUE_ON = 'glue is on';

const FRESH_MS = 2 * HOUR_MS;

/** When a moment of this step was last noted, if that was within two hours. */
function lastMoment(facts: BuildFacts, op: string, text: string, nowMs: number): number | undefined {
  const at = facts.notes.findLast((n) => n.op === op && n.text === text)?.atMs;
  return at !== undefined && nowMs - at < FRESH_MS ? at : undefined;
}

/** Minutes of the dry run and of open glue. They come from the record, so a closed page loses nothing. */
export function GlueTimers(props: {
  readonly build: string;
  readonly op: string;
  readonly facts: BuildFacts;
  readonly nowMs: number;
  readonly canWrite: boolean;
}) {
  const { build, op, facts, nowMs, canWrite } = props;
  const dryMs = lastMoment(facts, op, DRY_RUN, nowMs);
  const glueMs = lastMoment(facts, op, GLUE_ON, nowMs);
  return (
    <section className="glue-timers">
      <h2 className="hd">Glue</h2>
      <p>Everything clamped dry first, then glue.</p>
      <GlueLeft glueMs={glueMs} nowMs={nowMs} />
      <div className="acts">
        <button
          type="button"
          className="btn"
          disabled={!canWrite}
          onClick={() => void noteMoment(build, op, DRY_RUN)}
        >
          {dryMs === undefined ? 'Begin the dry run' : `Dry run: ${sinceWords(dryMs, nowMs)}`}
        </button>
        <button
          type="button"
          className="btn"
          disabled={!canWrite}
          onClick={() => void noteMoment(build, op, GLUE_ON)}
        >
          {glueMs === undefined ? 'Glue is on' : `Glue open: ${sinceWords(glueMs, nowMs)}`}
        </button>
      </div>
    </section>
  );
}
