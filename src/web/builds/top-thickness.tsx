import type { BuildFacts } from '../../course/build-facts.ts';
import type { ClassState } from '../../course/class-state.ts';
import { topThicknesses } from '../../course/top-thickness.ts';
import { placeOfSpot, thicknessMap } from '../../drawing/thickness-map.ts';
import type { BuildComputed } from '../class/build-context.ts';
import { PlainDrawing } from '../parts/plain-drawing.tsx';

/** The thickness of the top by spot. */
export function TopThickness(props: {
  readonly state: ClassState;
  readonly facts: BuildFacts;
  readonly computed: BuildComputed;
}) {
  const { state, facts, computed } = props;
  const spots = topThicknesses(state.route, facts);
  const unplaced = spots.filter((s) => !placeOfSpot(computed.sheet, s.spot));
  const drawing = thicknessMap(computed.sheet, spots);
  const words = spots.map((s) => `${s.spot} ${s.thicknessMm.toFixed(2)} mm`).join('; ');
  return (
    <section>
      <h2 className="hd">Thickness of the top</h2>
      {spots.length === 0 ? (
        <p>Not read yet: three spots are asked when the top is brought to its thickness.</p>
      ) : (
        <div className="map">
          <PlainDrawing
            entities={drawing.entities}
            bounds={drawing.frame}
            words={`Thickness of the top in mm, seen from the front: ${words}`}
          />
          <ul>
            <li className="q">Full dot: met. Hollow dot: doubtful. Cross: broken when it was read.</li>
            {spots.map((s) => (
              <li key={s.spot}>
                <strong className="n">{s.thicknessMm.toFixed(2)} mm</strong> {s.spot}
                {s.state ? `, ${s.state} when it was read` : ''}
                {unplaced.includes(s) && ' (a spot without a place on the drawing)'}
              </li>
            ))}
          </ul>
        </div>
      )}
    </section>
  );
}
