/** What pdfkit takes and its published types leave out. */
declare namespace PDFKit.Mixins {
  interface StructureElementOptions {
    /** Which cells a table header stands for. */
    scope?: 'Column' | 'Row' | 'Both';
    /** Left, top, right, bottom in points from the top left corner; asked of a Figure by PDF/UA-1 (ISO 14289-1, 7.3). */
    bbox?: [number, number, number, number];
  }

  interface PDFVector {
    /** Lengths of dash and space in turn. */
    dash(lengths: number[]): this;
  }

  interface PDFFont {
    /** A font that fontkit has already parsed. */
    registerFont(name: string, font: import('fontkit').Font): this;
  }
}
