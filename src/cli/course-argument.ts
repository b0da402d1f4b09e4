import path from 'node:path';
import { type CourseFile, readCourseFile } from '../course/course-file.ts';
import { InputError } from '../quantity/input-error.ts';
import type { RouteForm } from '../schedule/class/route-form.ts';
import { projectRoot, readText } from './door.ts';
import { readJson } from './project.ts';

/** A course file as it was named on the command line. */
export interface NamedCourseFile {
  readonly argument: string;
  readonly file: CourseFile;
}

/** Reads course files, or demo courses by their names, with the route of the project. @throws InputError */
export function courseArguments(files: readonly string[]): readonly NamedCourseFile[] {
  const route = readJson(path.join(projectRoot, 'data/route/operations.json')) as RouteForm;
  return files.map((argument) => {
    const isName = /^[a-z0-9-]+$/.test(argument);
    const text = readText(isName ? path.join(projectRoot, 'data/courses', `${argument}.yaml`) : argument);
    try {
      return { argument, file: readCourseFile(text, route) };
    } catch (error) {
      // of several files it is said which one is meant
      if (error instanceof InputError && files.length > 1)
        throw new InputError(error.code, `${argument}: ${error.message}`, error.member);
      throw error;
    }
  });
}
