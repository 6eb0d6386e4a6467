// A page of a PDF as a picture. Loaded only when somebody chooses a PDF.
import { GlobalWorkerOptions, getDocument } from "pdfjs-dist";

GlobalWorkerOptions.workerSrc = "/pdf.worker.js";

/** Draws a page, its longer side at most mostSide pixels. */
export async function pageOf(data: ArrayBuffer, page: number, mostSide: number): Promise<{ picture: Blob; pages: number }> {
  const doc = await getDocument({ data, isEvalSupported: false, useSystemFonts: true }).promise;
  const sheet = await doc.getPage(Math.min(Math.max(page, 1), doc.numPages));
  const plain = sheet.getViewport({ scale: 1 });
  const view = sheet.getViewport({ scale: Math.min(4, mostSide / Math.max(plain.width, plain.height)) });
  const canvas = document.createElement("canvas");
  canvas.width = Math.floor(view.width);
  canvas.height = Math.floor(view.height);
  await sheet.render({ canvasContext: canvas.getContext("2d")!, viewport: view }).promise;
  const picture = await new Promise<Blob | null>((done) => canvas.toBlob(done, "image/png"));
  const pages = doc.numPages;
  await doc.destroy();
  if (!picture) throw new Error("no picture of the page");
  return { picture, pages };
}
