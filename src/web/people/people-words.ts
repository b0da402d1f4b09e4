/** Whether a key is given to a person one by one; bench tools come with the induction, some machines are the teacher's alone. */
export const isKeyed = (key: string): boolean => !['none', 'hand', 'teacher-only'].includes(key);
