/**
 * Which print a panel or a definition belongs to, by how its id begins; the first print, which is the garment's, where
 * none claims it.
 */
export function findPrint(prints: readonly { readonly scopes: readonly string[] }[], id: string): number {
  return Math.max(
    0,
    prints.findIndex(({ scopes }) => scopes.some((scope) => id.startsWith(scope))),
  );
}
