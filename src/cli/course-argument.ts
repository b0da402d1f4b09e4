import path from 'node:path';
import { type CourseFile, readCourseFile } from '../course/course-file.ts';
import type { RouteForm } from '../schedule/class/route-form.ts';
import { projectRoot, readText } from './door.ts';
import { readJson } from './project.ts';

/** Reads a course file, or a demo course by its name, with the route of the project. @throws InputError */
export function courseArgument(file: string): CourseFile {
  const route = readJson(path.join(projectRoot, 'data/route/operations.json')) as RouteForm;
  const isName = /^[a-z0-9-]+$/.test(file);
  return readCourseFile(
    readText(isName ? path.join(projectRoot, 'data/courses', `${file}.yaml`) : file),
    route,
  );
}
