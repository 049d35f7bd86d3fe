declare const unit: unique symbol;

/** A number that carries its unit in the type, so that metres are never handed over as feet. */
export type Branded<Unit extends string> = number & { readonly [unit]: Unit };
