/** Codes of this folder's refusals and their figures. */
export type PlanRefusals = {
  readonly PLAN_RANGE: { readonly fromOhm: number; readonly toOhm: number };
  readonly PLAN_COUNT: { readonly count: number };
};
