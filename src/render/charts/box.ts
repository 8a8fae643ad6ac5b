/** Columns of a chart that can be told apart: its frame is drawn some 300 units wide. */
export const BOX_COLUMNS = 150;
