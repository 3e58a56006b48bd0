// The reader's own size of text: all of it follows, and nothing is cut or has to be scrolled sideways for it.
import { expect, openPlain, putUp, sideways, test, walk } from "./kit.mjs";

/** Sets the size of text as the settings of a browser do: the root's own size is not touched by the page. */
async function setText(page, px) {
  const client = await page.context().newCDPSession(page);
  await client.send("Page.setFontSizes", { fontSizes: { standard: px, fixed: px } });
}

/** Every text of the page with its size, and what is cut off of it. */
const texts = (page) => page.evaluate(() => {
  const sizes = [];
  const cut = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const [node, at] = [walker.currentNode, walker.currentNode.parentElement];
    if (!node.data.trim() || !at.checkVisibility({ visibilityProperty: true })) continue;
    if (at.closest("script, noscript, style, option, .sr, .skip")) continue;
    if (getComputedStyle(at).clipPath !== "none") continue;
    // Heads of a table whose cells say them too, where it is narrow.
    const heads = at.closest("thead");
    if (heads && getComputedStyle(heads).clipPath !== "none") continue;
    // Letters of a drawing are lengths of the drawing: as large as the drawing makes them on the screen.
    const drawn = at.closest("svg") ? at.getScreenCTM().a : 1;
    sizes.push([at.closest("svg") ? "drawn" : "", Number.parseFloat(getComputedStyle(at).fontSize) * drawn, node.data]);
    const range = document.createRange();
    range.selectNodeContents(node);
    const own = range.getBoundingClientRect();
    for (let up = at; up && own.width > 0; up = up.parentElement) {
      const { overflowX, overflowY, textOverflow, display } = getComputedStyle(up);
      if (display === "contents" || textOverflow === "ellipsis") break;
      const box = up.getBoundingClientRect();
      const past = [
        [overflowX, own.right - box.right], [overflowX, box.left - own.left],
        [overflowY, own.bottom - box.bottom], [overflowY, box.top - own.top],
      ].some(([overflow, px]) => ["hidden", "clip"].includes(overflow) && px > 3);
      if (past) cut.push(`${node.data.trim().slice(0, 30)} in ${up.className || up.tagName}`);
      // What is scrolled to is not cut.
      if ([overflowX, overflowY].some((overflow) => ["auto", "scroll"].includes(overflow))) break;
    }
  }
  return { sizes, cut };
});

for (const [width, height] of [[320, 640], [390, 844], [844, 390], [1024, 768], [1440, 900]]) {
  test(`text at 200 % is all twice as large, whole and in reach at ${width} × ${height}`, async ({ page }) => {
    test.setTimeout(180_000);
    await page.setViewportSize({ width, height });
    await openPlain(page);
    const usual = new Set((await texts(page)).sizes.filter(([drawn]) => !drawn).map(([, px]) => px));
    await setText(page, 32);
    await page.reload();
    await putUp(page);
    const larger = await texts(page);
    const wrong = larger.sizes.filter(([drawn, px]) => !drawn && ![...usual].some((was) => Math.abs(px - 2 * was) < 0.1));
    expect(wrong, "no text keeps its size").toEqual([]);
    // Two fingers make them larger still.
    const least = Math.min(20, width / 24);
    expect(larger.sizes.filter(([drawn, px]) => drawn && px < least), "letters of drawings").toEqual([]);
    await walk(page, async (where) => {
      expect.soft(await sideways(page), where).toBeLessThanOrEqual(0);
      expect.soft((await texts(page)).cut, where).toEqual([]);
    });
    await setText(page, 16);
  });
}
