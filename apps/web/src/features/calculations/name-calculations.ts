/** Where a text names a calculation by its id in back quotes, as its documentation does, the reader sees its title. */
export function nameCalculations(text: string, items: readonly { id: string; title: string }[]): string {
  return text.replace(/`([a-z-]+)`/g, (whole, id) => {
    const named = items.find((item) => item.id === id);
    return named === undefined ? whole : `“${named.title}”`;
  });
}
