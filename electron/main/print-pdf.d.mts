export declare const printPdf: (htmlFile: string, pdfFile: string) => Promise<void>
