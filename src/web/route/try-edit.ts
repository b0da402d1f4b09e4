import type { RouteEdit } from '../../route/route-edit.ts';

/** Makes one change after trying it on the whole route; gives the sentence when it cannot be. */
export type TryEdit = (edit: RouteEdit) => string | undefined;
