import { roomVerdict } from '../../course/room.ts';
import { equilibriumMoistureFrac } from '../../wood/moisture.ts';
import { classStates, useRecord } from '../record/use-class.ts';

const left = 40;
const right = 350;
const topPx = 10;
const bottom = 170;
const mostPct = 20;
const xOf = (humidityFrac: number): number => left + (right - left) * humidityFrac;
const yOf = (moisturePct: number): number => bottom - ((bottom - topPx) * moisturePct) / mostPct;
const temperatures = [10, 20, 30] as const;
const humidities = Array.from({ length: 18 }, (_, i) => 0.05 + 0.05 * i);

/** Moisture of wood by humidity, with the band for gluing and the readings of the room. */
export function RoomChart() {
  const view = useRecord();
  const states = [...classStates(view).values()];
  const readings = states.flatMap((s) => s.shop.climate).slice(-60);
  const last = readings.at(-1);
  // the word of that moment: what it is now the bench and the session say
  const route = states.find((s) => s.shop.climate.some((c) => c === last))?.route;
  const verdict = last && route ? roomVerdict(route, readings, last.atMs) : undefined;
  return (
    <section aria-label="The room and the wood">
      <h2>The room and the wood</h2>
      <svg
        viewBox="0 0 360 200"
        role="img"
        className="roomchart"
        aria-label={`Moisture that wood takes on against humidity, at 10, 20 and 30 C; gluing between 40 and 50 % humidity; ${readings.length} readings of the room`}
      >
        <rect
          x={xOf(0.35)}
          y={topPx}
          width={xOf(0.58) - xOf(0.35)}
          height={bottom - topPx}
          className="rc-doubtful"
        />
        <rect x={xOf(0.4)} y={topPx} width={xOf(0.5) - xOf(0.4)} height={bottom - topPx} className="rc-met" />
        {temperatures.map((tempC) => (
          <polyline
            key={tempC}
            className={tempC === 20 ? 'rc-line main' : 'rc-line'}
            points={humidities
              .map(
                (h) =>
                  `${xOf(h).toFixed(1)},${yOf(100 * equilibriumMoistureFrac({ tempC, humidityFrac: h })).toFixed(1)}`,
              )
              .join(' ')}
          />
        ))}
        {[0, 5, 10, 15, 20].map((pct) => (
          <text key={pct} x={left - 6} y={yOf(pct) + 4} textAnchor="end" className="p-text">
            {pct}
          </text>
        ))}
        {[0, 0.2, 0.4, 0.6, 0.8, 1].map((h) => (
          <text key={h} x={xOf(h)} y={bottom + 14} textAnchor="middle" className="p-text">
            {Math.round(100 * h)}
          </text>
        ))}
        <line x1={left} x2={right} y1={bottom} y2={bottom} className="p-zero" />
        <text x={right} y={bottom + 28} textAnchor="end" className="p-text">
          humidity, %
        </text>
        <text x={left - 34} y={topPx + 4} className="p-text">
          %
        </text>
        {readings.map((r) => (
          <circle
            key={r.atMs}
            cx={xOf(r.humidityFrac)}
            cy={yOf(100 * equilibriumMoistureFrac({ tempC: r.tempC ?? 20, humidityFrac: r.humidityFrac }))}
            r="3.5"
            className="rc-dot"
          />
        ))}
      </svg>
      {verdict ? (
        <p data-number="room-verdict">
          For gluing, at the last reading: <b>{verdict.state}</b>. {verdict.text} Getting worse counts at
          once; getting better only when the humidity lies 1 % inside the band.
        </p>
      ) : null}
      <p>
        {last
          ? `Last reading: ${Math.round(100 * last.humidityFrac)} % humidity; wood that has rested here holds ${(100 * equilibriumMoistureFrac({ tempC: last.tempC ?? 20, humidityFrac: last.humidityFrac })).toFixed(1)} % moisture.`
          : 'No reading of the room yet: read humidity at the opening of a session.'}{' '}
        Between 40 and 50 % humidity wood holds 7.7 to 9.3 % (at 20 C): the band for gluing. The lines are for
        10, 20 (thick) and 30 C.
      </p>
    </section>
  );
}
