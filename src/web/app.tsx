import { lazy, Suspense, useEffect } from 'react';
import { Redirect, Route, Switch } from 'wouter';
import { SessionPage } from './class/session-page.tsx';
import { Frame } from './frame/frame.tsx';
import { NotFound } from './frame/not-found.tsx';
import { startSending } from './keeping/sending.ts';

// the session page is the opening page and comes with the first script; the others come when they are asked for
const PatternsPage = lazy(() =>
  import('./pattern/patterns-page.tsx').then((m) => ({ default: m.PatternsPage })),
);
const PatternPage = lazy(() =>
  import('./pattern/pattern-page.tsx').then((m) => ({ default: m.PatternPage })),
);
const StructurePage = lazy(() =>
  import('./structure/structure-page.tsx').then((m) => ({ default: m.StructurePage })),
);
const BeginPage = lazy(() => import('./class/begin/begin-page.tsx').then((m) => ({ default: m.BeginPage })));
const PaperPage = lazy(() => import('./class/paper/paper-page.tsx').then((m) => ({ default: m.PaperPage })));
const CardPage = lazy(() => import('./class/card-page.tsx').then((m) => ({ default: m.CardPage })));
const BenchPage = lazy(() => import('./class/bench-page.tsx').then((m) => ({ default: m.BenchPage })));
const StationPage = lazy(() => import('./class/station-page.tsx').then((m) => ({ default: m.StationPage })));
const BuildsPage = lazy(() => import('./builds/builds-page.tsx').then((m) => ({ default: m.BuildsPage })));
const BuildPage = lazy(() => import('./builds/build-page.tsx').then((m) => ({ default: m.BuildPage })));
const ChangePage = lazy(() => import('./builds/change-page.tsx').then((m) => ({ default: m.ChangePage })));
const ComparePage = lazy(() => import('./builds/compare-page.tsx').then((m) => ({ default: m.ComparePage })));
const PeoplePage = lazy(() => import('./people/people-page.tsx').then((m) => ({ default: m.PeoplePage })));
const OfficePage = lazy(() => import('./office/office-page.tsx').then((m) => ({ default: m.OfficePage })));
const TabletsPage = lazy(() =>
  import('./tablets/tablets-page.tsx').then((m) => ({ default: m.TabletsPage })),
);
const ScanPage = lazy(() => import('./scan/scan-page.tsx').then((m) => ({ default: m.ScanPage })));
const RoutePage = lazy(() => import('./route/route-page.tsx').then((m) => ({ default: m.RoutePage })));
const ForecastPage = lazy(() =>
  import('./forecast/forecast-page.tsx').then((m) => ({ default: m.ForecastPage })),
);

/** The whole page: the frame and what stands at the address. */
export function App() {
  useEffect(startSending, []);
  return (
    <Frame>
      <Suspense fallback={<main id="main" data-state="loading" />}>
        <Switch>
          <Route path="/">
            <Redirect to="/session" replace />
          </Route>
          <Route path="/session">
            <SessionPage />
          </Route>
          <Route path="/begin">
            <BeginPage />
          </Route>
          <Route path="/paper">
            <PaperPage />
          </Route>
          <Route path="/card/:id">{({ id }) => <CardPage key={id} card={id} />}</Route>
          <Route path="/bench/:build">{({ build }) => <BenchPage key={build} build={build} />}</Route>
          <Route path="/station/:station">
            {({ station }) => <StationPage key={station} station={station} />}
          </Route>
          <Route path="/builds">
            <BuildsPage />
          </Route>
          <Route path="/builds/change/:pattern/:revision">
            {(ids) => <ChangePage key={ids.revision} {...ids} />}
          </Route>
          <Route path="/builds/compare">
            <ComparePage />
          </Route>
          <Route path="/builds/:build">{({ build }) => <BuildPage key={build} build={build} />}</Route>
          <Route path="/route">
            <RoutePage />
          </Route>
          <Route path="/forecast">
            <ForecastPage />
          </Route>
          <Route path="/office">
            <Redirect to="/office/hours" replace />
          </Route>
          <Route path="/office/:part">{({ part }) => <OfficePage part={part} />}</Route>
          <Route path="/people">
            <PeoplePage />
          </Route>
          <Route path="/tablets">
            <TabletsPage />
          </Route>
          <Route path="/scan">
            <ScanPage />
          </Route>
          <Route path="/pattern">
            <PatternsPage />
          </Route>
          <Route path="/pattern/:id/structure">{({ id }) => <StructurePage key={id} patternId={id} />}</Route>
          <Route path="/pattern/:id">{({ id }) => <PatternPage key={id} patternId={id} />}</Route>
          <Route>
            <NotFound />
          </Route>
        </Switch>
      </Suspense>
    </Frame>
  );
}
