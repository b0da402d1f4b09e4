import { useEffect, useMemo, useState } from 'react';
import { Link } from 'wouter';
import { frontFace } from '../../drawing/front-face.ts';
import { LAYER_NAMES, type LayerName } from '../../drawing/line-types.ts';
import { sheetOfPattern } from '../../figures/pattern-sheet.ts';
import { readPattern } from '../../pattern/pattern-file.ts';
import type { PatternText } from '../keeping/server.ts';
import { Amount } from '../parts/amount.tsx';
import { DrawingView } from '../parts/drawing-view/drawing-view.tsx';
import './pattern.css';
import { loadPatterns } from './source.ts';

const PLAIN_LAYERS: ReadonlySet<LayerName> = new Set(
  LAYER_NAMES.filter((layer) => layer === 'dimension' || layer === 'text' || layer === 'centre'),
);
const MARGINS = { top: 8, right: 8, bottom: 8, left: 8 };

/** All patterns, each with its front face. */
export function PatternsPage() {
  const [patterns, setPatterns] = useState<readonly PatternText[]>();
  useEffect(() => {
    void loadPatterns().then(setPatterns);
  }, []);
  return (
    <main id="main" className="leafpage wide" data-state={patterns ? 'ready' : 'loading'}>
      <h1>Patterns</h1>
      <p className="q2">
        One pattern gives every number, rule, drawing and card. Take the one nearest to yours.
      </p>
      <ul className="patterns">
        {patterns?.map((pattern) => (
          <li key={pattern.id}>
            <PatternSheet pattern={pattern} />
          </li>
        ))}
      </ul>
    </main>
  );
}

function PatternSheet({ pattern }: { readonly pattern: PatternText }) {
  const seen = useMemo(() => {
    try {
      const read = readPattern(pattern.text);
      return { read, drawing: frontFace(sheetOfPattern(read)) };
    } catch {
      return undefined;
    }
  }, [pattern]);
  return (
    <Link className="psheet" href={`/pattern/${pattern.id}`}>
      <h2>{pattern.name}</h2>
      {seen ? (
        <>
          <div className="ppicture" inert>
            <DrawingView
              drawing={seen.drawing}
              hidden={PLAIN_LAYERS}
              margins={MARGINS}
              words={`Front face of ${pattern.name}`}
              isStill
            />
          </div>
          <dl className="pfacts">
            {(
              [
                ['Scale', 'scale.length'],
                ['Body', 'body.length'],
                ['Lower bout', 'body.lower_bout.width'],
              ] as const
            ).map(([name, id]) => (
              <div key={id}>
                <dt>{name}</dt>
                <dd>
                  <Amount value={seen.read.numbers.get(id) ?? 0} unit="mm" />
                </dd>
              </div>
            ))}
          </dl>
        </>
      ) : (
        <p className="says bad">This pattern cannot be read. Open it to see why.</p>
      )}
    </Link>
  );
}
