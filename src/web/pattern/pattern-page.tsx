import { Link } from 'wouter';
import { Desk } from './desk.tsx';
import './pattern.css';
import { usePatternSource } from './source.ts';

/** One pattern: its drawing beside its numbers, rules and revisions. */
export function PatternPage({ patternId }: { readonly patternId: string }) {
  const loading = usePatternSource(patternId);
  if (loading.state === 'ready') return <Desk source={loading.source} />;
  if (loading.state === 'loading')
    return (
      <main id="main" className="leafpage" data-state="loading">
        <p role="status">Reading the pattern.</p>
      </main>
    );
  return (
    <main id="main" className="leafpage" data-state="ready">
      <h1>{loading.state === 'missing' ? 'No pattern is called so' : 'This pattern cannot be read'}</h1>
      <p>
        {loading.state === 'missing'
          ? `"${patternId}" is neither a starting pattern nor a saved one.`
          : loading.sentence}
      </p>
      <p>
        <Link className="btn" href="/pattern">
          Show the patterns
        </Link>
      </p>
    </main>
  );
}
