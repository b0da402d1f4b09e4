import { useEffect } from 'react';
import { Redirect, Route, Switch } from 'wouter';
import { Frame } from './frame/frame.tsx';
import { NotFound } from './frame/not-found.tsx';
import { startSending } from './keeping/sending.ts';
import { PatternPage } from './pattern/pattern-page.tsx';
import { PatternsPage } from './pattern/patterns-page.tsx';

/** The whole page: the frame and what stands at the address. */
export function App() {
  useEffect(startSending, []);
  return (
    <Frame>
      <Switch>
        <Route path="/">
          <Redirect to="/pattern" replace />
        </Route>
        <Route path="/pattern">
          <PatternsPage />
        </Route>
        <Route path="/pattern/:id">{({ id }) => <PatternPage key={id} patternId={id} />}</Route>
        <Route>
          <NotFound />
        </Route>
      </Switch>
    </Frame>
  );
}
