import { isInsideLoop, type Loop, loopAreaMm2, nearestOnLoop, type Place } from '../../geometry/mesh-loop.ts';
import { InputError } from '../../quantity/input-error.ts';
import { holeLoop, outlineLoop } from './plate-mesh.ts';
import type {
  PlateBar,
  PlateHole,
  PlateLayer,
  PlateLoad,
  PlateMaterial,
  PlateProblem,
  PlateShape,
} from './plate-problem.ts';

/** How far outside a bar's end may lie and still be on the outline. */
const endToleranceMm = 0.01;
const mostModes = 200;

/**
 * A plate problem from anything that was read; what cannot be a plate is refused.
 *
 * @param value  the parsed file
 * @returns      the problem with every member checked
 * @throws InputError naming the member, the value got, the limit and the remedy
 * @source       arithmetic
 */
export function checkPlateProblem(value: unknown): PlateProblem {
  const root = record(value, 'problem');
  const plate = record(root['plate'], 'plate');
  const outline = readOutline(plate['outline']);
  const thicknessMm = positive(plate['thicknessMm'], 'plate.thicknessMm');
  const material = readMaterial(plate['material'], 'plate.material');
  const holes = list(plate['holes'], 'plate.holes').map((hole, i) => readHole(hole, `plate.holes[${i}]`));
  const layers = list(plate['layers'], 'plate.layers').map((layer, i) =>
    readLayer(layer, `plate.layers[${i}]`),
  );
  const domeRadiusMm =
    plate['domeRadiusMm'] === undefined ? undefined : positive(plate['domeRadiusMm'], 'plate.domeRadiusMm');
  const bars = list(root['bars'], 'bars').map((bar, i) => readBar(bar, `bars[${i}]`));
  const support = readSupport(root['support']);
  const loads = list(root['loads'], 'loads').map((load, i) => readLoad(load, `loads[${i}]`));
  const modes = readModes(root['modes']);
  const meshMm = root['meshMm'] === undefined ? undefined : positive(root['meshMm'], 'meshMm');
  const problem: PlateProblem = {
    plate: {
      outline,
      thicknessMm,
      material,
      holes,
      ...(layers.length > 0 ? { layers } : {}),
      ...(domeRadiusMm === undefined ? {} : { domeRadiusMm }),
    },
    bars,
    support,
    loads,
    modes,
    ...(meshMm === undefined ? {} : { meshMm }),
  };
  checkFit(problem);
  return problem;
}

function refuse(member: string, sentence: string): never {
  throw new InputError('plate-problem', `${member} ${sentence}`, member);
}

function record(value: unknown, member: string): Record<string, unknown> {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    refuse(member, `is ${show(value)}; it must be an object with named members.`);
  return value as Record<string, unknown>;
}

function list(value: unknown, member: string): readonly unknown[] {
  if (value === undefined) return [];
  if (!Array.isArray(value)) refuse(member, `is ${show(value)}; it must be a list.`);
  return value;
}

function show(value: unknown): string {
  if (value === undefined) return 'missing';
  const text = JSON.stringify(typeof value === 'number' && !Number.isFinite(value) ? String(value) : value);
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
}

function finite(value: unknown, member: string): number {
  if (typeof value !== 'number' || !Number.isFinite(value))
    refuse(member, `is ${show(value)}; it must be a finite number.`);
  return value;
}

function positive(value: unknown, member: string): number {
  const number = finite(value, member);
  if (number <= 0) refuse(member, `is ${number}; it must be above 0.`);
  return number;
}

function place(value: unknown, member: string): Place {
  if (!Array.isArray(value) || value.length !== 2)
    refuse(member, `is ${show(value)}; it must be two numbers [x, y] in mm.`);
  return [finite(value[0], `${member}[0]`), finite(value[1], `${member}[1]`)];
}

function places(value: unknown, member: string): Place[] {
  const points = list(value, member).map((point, i) => place(point, `${member}[${i}]`));
  if (points.length < 3) refuse(member, `has ${points.length} points; a closed line needs at least 3.`);
  return points;
}

function oneOf<T extends string>(value: unknown, allowed: readonly T[], member: string): T {
  const found = allowed.find((word) => word === value);
  if (!found) refuse(member, `is ${show(value)}; it must be one of ${allowed.join(', ')}.`);
  return found;
}

function readOutline(value: unknown): PlateShape {
  const member = 'plate.outline';
  const shape = record(value, member);
  const kind = oneOf(shape['kind'], ['rectangle', 'ellipse', 'polygon'], `${member}.kind`);
  if (kind === 'rectangle')
    return {
      kind,
      alongMm: positive(shape['alongMm'], `${member}.alongMm`),
      acrossMm: positive(shape['acrossMm'], `${member}.acrossMm`),
    };
  if (kind === 'ellipse')
    return {
      kind,
      semiAlongMm: positive(shape['semiAlongMm'], `${member}.semiAlongMm`),
      semiAcrossMm: positive(shape['semiAcrossMm'], `${member}.semiAcrossMm`),
    };
  const pointsMm = places(shape['pointsMm'], `${member}.pointsMm`);
  checkSimple(pointsMm, `${member}.pointsMm`);
  return { kind, pointsMm };
}

function readHole(value: unknown, member: string): PlateHole {
  const hole = record(value, member);
  const kind = oneOf(hole['kind'], ['circle', 'ellipse', 'rectangle', 'polygon'], `${member}.kind`);
  if (kind === 'polygon') {
    const pointsMm = places(hole['pointsMm'], `${member}.pointsMm`);
    checkSimple(pointsMm, `${member}.pointsMm`);
    return { kind, pointsMm };
  }
  const centreMm = place(hole['centreMm'], `${member}.centreMm`);
  if (kind === 'circle')
    return { kind, centreMm, radiusMm: positive(hole['radiusMm'], `${member}.radiusMm`) };
  if (kind === 'ellipse')
    return {
      kind,
      centreMm,
      semiAlongMm: positive(hole['semiAlongMm'], `${member}.semiAlongMm`),
      semiAcrossMm: positive(hole['semiAcrossMm'], `${member}.semiAcrossMm`),
    };
  return {
    kind,
    centreMm,
    alongMm: positive(hole['alongMm'], `${member}.alongMm`),
    acrossMm: positive(hole['acrossMm'], `${member}.acrossMm`),
  };
}

function readMaterial(value: unknown, member: string): PlateMaterial {
  const material = record(value, member);
  const eAlongMPa = positive(material['eAlongMPa'], `${member}.eAlongMPa`);
  const eAcrossMPa = positive(material['eAcrossMPa'], `${member}.eAcrossMPa`);
  const shearMPa = positive(material['shearMPa'], `${member}.shearMPa`);
  const poissonAlongAcross = finite(material['poissonAlongAcross'], `${member}.poissonAlongAcross`);
  const densityKgPerM3 = positive(material['densityKgPerM3'], `${member}.densityKgPerM3`);
  const limit = Math.sqrt(eAlongMPa / eAcrossMPa);
  if (Math.abs(poissonAlongAcross) >= limit)
    refuse(
      `${member}.poissonAlongAcross`,
      `is ${poissonAlongAcross}; with these moduli it must be smaller in size than ${limit.toFixed(3)}, the square root of eAlongMPa / eAcrossMPa.`,
    );
  return { eAlongMPa, eAcrossMPa, shearMPa, poissonAlongAcross, densityKgPerM3 };
}

function readLayer(value: unknown, member: string): PlateLayer {
  const layer = record(value, member);
  return {
    pointsMm: places(layer['pointsMm'], `${member}.pointsMm`),
    thicknessMm: positive(layer['thicknessMm'], `${member}.thicknessMm`),
    face: oneOf(layer['face'], ['bars', 'opposite'], `${member}.face`),
    material: readMaterial(layer['material'], `${member}.material`),
  };
}

function readBar(value: unknown, member: string): PlateBar {
  const bar = record(value, member);
  const heights =
    bar['heightsMm'] === undefined ? undefined : readHeights(bar['heightsMm'], `${member}.heightsMm`);
  const fromMm = place(bar['fromMm'], `${member}.fromMm`);
  const toMm = place(bar['toMm'], `${member}.toMm`);
  if (Math.hypot(fromMm[0] - toMm[0], fromMm[1] - toMm[1]) < 0.1)
    refuse(member, `has its ends less than 0.1 mm apart; move fromMm or toMm.`);
  return {
    fromMm,
    toMm,
    widthMm: positive(bar['widthMm'], `${member}.widthMm`),
    heightMm:
      heights && bar['heightMm'] === undefined
        ? Math.max(...heights.map(([, height]) => height))
        : positive(bar['heightMm'], `${member}.heightMm`),
    eMPa: positive(bar['eMPa'], `${member}.eMPa`),
    shearMPa: positive(bar['shearMPa'], `${member}.shearMPa`),
    densityKgPerM3: positive(bar['densityKgPerM3'], `${member}.densityKgPerM3`),
    ...(heights ? { heightsMm: heights } : {}),
  };
}

function readHeights(value: unknown, member: string): Place[] {
  const rows = list(value, member).map((row, i) => place(row, `${member}[${i}]`));
  rows.forEach(([position, height], i) => {
    if (position < 0 || position > 1)
      refuse(`${member}[${i}][0]`, `is ${position}; a position must be from 0 to 1.`);
    if (height < 0) refuse(`${member}[${i}][1]`, `is ${height}; a height must be 0 mm or more.`);
    if (i > 0 && position <= rows[i - 1]![0])
      refuse(`${member}[${i}][0]`, `is ${position}; positions must rise from one row to the next.`);
  });
  if (rows.length === 0 || rows.every(([, height]) => height === 0))
    refuse(member, 'gives no height above 0; give at least one.');
  return rows;
}

function readSupport(value: unknown): PlateProblem['support'] {
  const support = record(value, 'support');
  return {
    bending: oneOf(support['bending'], ['clamped', 'hinged', 'free'], 'support.bending'),
    inPlane: oneOf(support['inPlane'] ?? 'pinned', ['pinned', 'free'], 'support.inPlane'),
  };
}

function readLoad(value: unknown, member: string): PlateLoad {
  const load = record(value, member);
  const kind = oneOf(load['kind'], ['force', 'couple', 'pressure', 'swelling'], `${member}.kind`);
  if (kind === 'force')
    return {
      kind,
      atMm: place(load['atMm'], `${member}.atMm`),
      newtons: finite(load['newtons'], `${member}.newtons`),
    };
  if (kind === 'pressure')
    return {
      kind,
      atMm: place(load['atMm'], `${member}.atMm`),
      pascals: finite(load['pascals'], `${member}.pascals`),
    };
  if (kind === 'swelling') {
    const growth = (name: string): Place => {
      const both = place(load[name] ?? [0, 0], `${member}.${name}`);
      return [growthFrac(both[0], `${member}.${name}[0]`), growthFrac(both[1], `${member}.${name}[1]`)];
    };
    return {
      kind,
      atMm: place(load['atMm'], `${member}.atMm`),
      plateFrac: growth('plateFrac'),
      barsFrac: growthFrac(load['barsFrac'] ?? 0, `${member}.barsFrac`),
      layersFrac: growth('layersFrac'),
    };
  }
  const patch = record(load['patchMm'], `${member}.patchMm`);
  return {
    kind,
    patchMm: {
      centreMm: place(patch['centreMm'], `${member}.patchMm.centreMm`),
      alongMm: positive(patch['alongMm'], `${member}.patchMm.alongMm`),
      acrossMm: positive(patch['acrossMm'], `${member}.patchMm.acrossMm`),
    },
    newtonMetres: finite(load['newtonMetres'], `${member}.newtonMetres`),
  };
}

/** No wood grows or shrinks by more than a fifth. */
function growthFrac(value: unknown, member: string): number {
  const frac = finite(value, member);
  if (Math.abs(frac) > 0.2)
    refuse(member, `is ${frac}; a free growth lies between -0.2 and 0.2 of the length.`);
  return frac;
}

function readModes(value: unknown): number {
  if (value === undefined) return 6;
  const modes = finite(value, 'modes');
  if (!Number.isInteger(modes) || modes < 0 || modes > mostModes)
    refuse('modes', `is ${modes}; it must be a whole number from 0 to ${mostModes}.`);
  return modes;
}

/** No two sides of a closed line may cross or touch, or it bounds more than one piece. */
function checkSimple(points: readonly Place[], member: string): void {
  const n = points.length;
  for (let i = 0; i < n; i++)
    for (let j = i + 2; j < n; j++) {
      if (i === 0 && j === n - 1) continue;
      if (doMeet(points[i]!, points[(i + 1) % n]!, points[j]!, points[(j + 1) % n]!))
        refuse(member, `crosses or touches itself between points ${i} and ${j}; it must bound one piece.`);
    }
}

function doMeet(a: Place, b: Place, c: Place, d: Place): boolean {
  const side = (p: Place, q: Place, r: Place) =>
    (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  if (Math.max(a[0], b[0]) < Math.min(c[0], d[0]) || Math.max(c[0], d[0]) < Math.min(a[0], b[0]))
    return false;
  if (Math.max(a[1], b[1]) < Math.min(c[1], d[1]) || Math.max(c[1], d[1]) < Math.min(a[1], b[1]))
    return false;
  return side(a, b, c) * side(a, b, d) <= 0 && side(c, d, a) * side(c, d, b) <= 0;
}

/** Whether everything lies where it has to. */
function checkFit(problem: PlateProblem): void {
  const outer = outlineLoop(problem.plate.outline);
  if (Math.abs(loopAreaMm2(outer)) < 1e-3)
    refuse('plate.outline', 'has no area; its points must not lie on a line.');
  const holes = problem.plate.holes.map(holeLoop);
  holes.forEach((hole, i) => {
    checkHole(outer, holes, hole, i);
  });
  if (problem.support.bending === 'free' && problem.loads.length > 0)
    refuse(
      'support.bending',
      `is "free" with ${problem.loads.length} load(s); a plate that is not held cannot carry a load, so hold the rim or leave the loads out.`,
    );
  problem.bars.forEach((bar, i) => {
    checkBar(outer, holes, bar, `bars[${i}]`);
  });
  (problem.plate.layers ?? []).forEach((layer, i) => {
    checkLayer(outer, layer, `plate.layers[${i}]`);
  });
  problem.loads.forEach((load, i) => {
    checkLoad(outer, holes, load, `loads[${i}]`);
  });
  const extent = Math.max(...outer.x) - Math.min(...outer.x);
  const width = Math.max(...outer.y) - Math.min(...outer.y);
  if (problem.meshMm !== undefined && problem.meshMm > Math.min(extent, width))
    refuse(
      'meshMm',
      `is ${problem.meshMm}; it must be smaller than the plate's width of ${Math.min(extent, width).toFixed(1)} mm.`,
    );
}

function checkHole(outer: Loop, holes: readonly Loop[], hole: Loop, i: number): void {
  const member = `plate.holes[${i}]`;
  if (Math.abs(loopAreaMm2(hole)) < 1e-3) refuse(member, 'has no area; its points must not lie on a line.');
  if (reachesOut(outer, hole)) refuse(member, 'reaches over the outline; it must lie inside the plate.');
  holes.slice(0, i).forEach((other, j) => {
    if (areJoined(other, hole)) refuse(member, `meets plate.holes[${j}]; holes must lie apart.`);
  });
}

/** Whether a closed line leaves another or touches it. */
function reachesOut(outer: Loop, inner: Loop): boolean {
  return eachPlace(inner).some(([x, y]) => !isInsideLoop(outer, x, y)) || areCrossing(outer, inner);
}

function areJoined(one: Loop, two: Loop): boolean {
  return (
    isInsideLoop(one, two.x[0]!, two.y[0]!) ||
    isInsideLoop(two, one.x[0]!, one.y[0]!) ||
    areCrossing(one, two)
  );
}

function areCrossing(one: Loop, two: Loop): boolean {
  const p = eachPlace(one);
  const q = eachPlace(two);
  return p.some((a, i) => q.some((c, j) => doMeet(a, p[(i + 1) % p.length]!, c, q[(j + 1) % q.length]!)));
}

function eachPlace(loop: Loop): Place[] {
  return Array.from(loop.x, (x, i): Place => [x, loop.y[i]!]);
}

/** How far a place lies outside a loop, mm; 0 inside. */
function outsideMm(outer: Loop, at: Place): number {
  return isInsideLoop(outer, at[0], at[1]) ? 0 : nearestOnLoop(outer, at[0], at[1]).distanceMm;
}

function checkBar(outer: Loop, holes: readonly Loop[], bar: PlateBar, member: string): void {
  for (const [name, end] of [
    ['fromMm', bar.fromMm],
    ['toMm', bar.toMm],
  ] as const) {
    const outside = outsideMm(outer, end);
    if (outside > endToleranceMm)
      refuse(
        `${member}.${name}`,
        `[${end.join(', ')}] lies ${outside.toFixed(2)} mm outside the outline; a bar must end on it or inside it.`,
      );
    holes.forEach((hole, h) => {
      if (
        isInsideLoop(hole, end[0], end[1]) &&
        nearestOnLoop(hole, end[0], end[1]).distanceMm > endToleranceMm
      )
        refuse(
          `${member}.${name}`,
          `[${end.join(', ')}] lies in plate.holes[${h}]; a bar needs wood under it.`,
        );
    });
  }
  const shrunk = inset(bar);
  if (crossesLoop(outer, shrunk))
    refuse(member, 'leaves the outline on its way; both ends and all between must lie inside.');
  holes.forEach((hole, h) => {
    if (crossesLoop(hole, shrunk))
      refuse(member, `passes over plate.holes[${h}]; a bar needs wood under it, so move or split it.`);
  });
}

/** The bar without a fiftieth of a millimetre at its ends, so that ending on a line is no crossing. */
function inset(bar: PlateBar): readonly [Place, Place] {
  const [dx, dy] = [bar.toMm[0] - bar.fromMm[0], bar.toMm[1] - bar.fromMm[1]];
  const part = 0.02 / Math.hypot(dx, dy);
  return [
    [bar.fromMm[0] + part * dx, bar.fromMm[1] + part * dy],
    [bar.toMm[0] - part * dx, bar.toMm[1] - part * dy],
  ];
}

function crossesLoop(loop: Loop, [from, to]: readonly [Place, Place]): boolean {
  const points = eachPlace(loop);
  return points.some((p, i) => doMeet(p, points[(i + 1) % points.length]!, from, to));
}

function checkLayer(outer: Loop, layer: PlateLayer, member: string): void {
  const n = layer.pointsMm.length;
  const turns = layer.pointsMm.map((p, i) => {
    const [q, r] = [layer.pointsMm[(i + 1) % n]!, layer.pointsMm[(i + 2) % n]!];
    return (q[0] - p[0]) * (r[1] - q[1]) - (q[1] - p[1]) * (r[0] - q[0]);
  });
  if (!(turns.every((t) => t >= 0) || turns.every((t) => t <= 0)))
    refuse(`${member}.pointsMm`, 'turns both ways; a layer must be convex, so split it.');
  layer.pointsMm.forEach((p, i) => {
    if (outsideMm(outer, p) > endToleranceMm)
      refuse(
        `${member}.pointsMm[${i}]`,
        `[${p.join(', ')}] lies outside the outline; a layer must lie on the plate.`,
      );
  });
}

function checkLoad(outer: Loop, holes: readonly Loop[], load: PlateLoad, member: string): void {
  if (load.kind !== 'couple') {
    checkSpot(outer, holes, load.atMm, `${member}.atMm`);
    return;
  }
  const { centreMm, alongMm, acrossMm } = load.patchMm;
  const corners = (
    [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ] as const
  ).map(([sx, sy]): Place => [centreMm[0] + (sx * alongMm) / 2, centreMm[1] + (sy * acrossMm) / 2]);
  const patch = outlineLoop({ kind: 'polygon', pointsMm: corners });
  if (corners.some((corner) => outsideMm(outer, corner) > endToleranceMm) || crossesInside(outer, corners))
    refuse(`${member}.patchMm`, 'reaches over the outline; the whole patch must lie on the plate.');
  holes.forEach((hole, h) => {
    if (areJoined(hole, patch))
      refuse(`${member}.patchMm`, `reaches over plate.holes[${h}]; the whole patch must lie on wood.`);
  });
}

function crossesInside(outer: Loop, corners: readonly Place[]): boolean {
  return corners.some((corner, i) => {
    const next = corners[(i + 1) % corners.length]!;
    const middle: Place = [(corner[0] + next[0]) / 2, (corner[1] + next[1]) / 2];
    return outsideMm(outer, middle) > endToleranceMm || hasPointInside(outer, corners);
  });
}

/** Whether a point of the outline lies well inside the patch. */
function hasPointInside(outer: Loop, corners: readonly Place[]): boolean {
  const [low, high] = [corners[0]!, corners[2]!];
  return eachPlace(outer).some(
    ([x, y]) => x > low[0] + 0.01 && x < high[0] - 0.01 && y > low[1] + 0.01 && y < high[1] - 0.01,
  );
}

function checkSpot(outer: Loop, holes: readonly Loop[], at: Place, member: string): void {
  const outside = outsideMm(outer, at);
  if (outside > endToleranceMm)
    refuse(
      member,
      `[${at.join(', ')}] lies ${outside.toFixed(2)} mm outside the outline; a load must press on the plate.`,
    );
  holes.forEach((hole, h) => {
    if (isInsideLoop(hole, at[0], at[1]) && nearestOnLoop(hole, at[0], at[1]).distanceMm > endToleranceMm)
      refuse(member, `[${at.join(', ')}] lies in plate.holes[${h}]; a load must press on wood.`);
  });
}
