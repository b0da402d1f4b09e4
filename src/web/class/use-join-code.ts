import { useEffect, useState } from 'react';
import { askServer } from '../record/record-server.ts';

/** The code learners join a course with, empty while there is none, and how to make a new one. */
export function useJoinCode(courseId: string): readonly [string, () => Promise<void>] {
  const [code, setCode] = useState('');
  useEffect(() => {
    void askServer<Readonly<Record<string, string>>>('GET', '/api/join-codes').then((answer) => {
      if (answer.kind === 'answer') setCode(answer.value[courseId] ?? '');
    });
  }, [courseId]);
  const make = async () => {
    const answer = await askServer<{ code: string }>('POST', '/api/join-codes', { course: courseId });
    if (answer.kind === 'answer') setCode(answer.value.code);
  };
  return [code, make];
}
