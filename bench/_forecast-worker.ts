import { parentPort, workerData } from 'node:worker_threads';
import { type ForecastSetUp, makeCoursePlayer } from '../src/schedule/class/forecast.ts';

const { setUp, from, to } = workerData as { setUp: ForecastSetUp; from: number; to: number };
const player = makeCoursePlayer(setUp);
// a few runs first, so that the clock measures playing and not starting
player.play(0, 40);
parentPort?.once('message', () => {
  parentPort?.postMessage(player.play(from, to));
});
parentPort?.postMessage('ready');
