import { LAYERS, type LayerName } from '../../drawing/line-types.ts';

/** Layers a person may switch, in plain words. */
const SWITCHED: readonly LayerName[] = [
  'hidden',
  'channel',
  'visible',
  'centre',
  'dimension',
  'ghost',
  'text',
  'grid',
];

/** A small sheet of switches, one for each layer. */
export function LayersPick({
  hidden,
  onChange,
}: {
  readonly hidden: ReadonlySet<LayerName>;
  readonly onChange: (hidden: ReadonlySet<LayerName>) => void;
}) {
  const toggle = (layer: LayerName) => {
    const next = new Set(hidden);
    if (!next.delete(layer)) next.add(layer);
    onChange(next);
  };
  return (
    <details className="layers">
      <summary className="btn sm">Layers</summary>
      <div className="laylist">
        {SWITCHED.map((layer) => (
          <label key={layer}>
            <input type="checkbox" checked={!hidden.has(layer)} onChange={() => toggle(layer)} />
            {LAYERS[layer].label}
          </label>
        ))}
      </div>
    </details>
  );
}
