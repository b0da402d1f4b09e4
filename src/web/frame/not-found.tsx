import { Link } from 'wouter';

/** What stands at an address that the book does not have. */
export function NotFound() {
  return (
    <main id="main" className="leafpage" data-state="ready">
      <h1>Nothing stands at this address</h1>
      <p>The page may have been renamed, or the address was typed with a slip.</p>
      <p>
        <Link className="btn" href="/pattern">
          Show the patterns
        </Link>
      </p>
    </main>
  );
}
