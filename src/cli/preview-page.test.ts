import { describe, expect, it } from "vitest";
import { writePreviewPage } from "./preview-page.js";

describe("writePreviewPage", () => {
  const picture = {
    name: 'Low "Tide" <b>',
    png: Uint8Array.of(1, 2, 3),
    width: 8,
    height: 4,
    inks: ["#1b2a41"],
  };
  const page = { title: "Reeds & <script>", description: "Border.", pictures: [picture] };

  it("lets no name break out of its place", () => {
    const html = writePreviewPage({ ...page, repeats: { x: true, y: false } });
    expect(html).toContain("Reeds &#38; &#60;script&#62;");
    expect(html).not.toContain("<script>");
    expect(html).toContain('aria-label="Low &#34;Tide&#34; &#60;b&#62;"');
  });

  it("repeats a border along the cloth only, other prints both ways", () => {
    const border = writePreviewPage({ ...page, repeats: { x: true, y: false } });
    expect(border).toContain("background-repeat:repeat-x;height:4px");
    const both = writePreviewPage({ ...page, repeats: { x: true, y: true } });
    expect(both).toContain("background-repeat:repeat;height:8px");
    expect(both).toContain("url(data:image/png;base64,AQID)");
  });
});
