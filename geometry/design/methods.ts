/** How a strip is brought to its curve, from the least trouble to the most. Apart from the schema, whose library the planner's thread has no need of. */
export const METHODS = ['cold', 'forced', 'wet', 'split', 'layers', 'strap', 'block'] as const;
export type Method = (typeof METHODS)[number];
