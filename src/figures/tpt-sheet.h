/* A sheet: pages made for people to carry, with text and blanks to fill in.
 *
 * A sheet is filled from top to bottom, chapter after chapter; each chapter
 * begins a page, and what does not fit goes on over further pages under the
 * chapter's title. Paragraphs break between lines, tables between rows, and
 * everything else stays whole. Blanks and the rows of a table are high enough
 * for handwriting. Lengths are units of 1/96 inch. The same content gives the
 * same bytes. A sheet is filled and written by one thread at a time.
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct _TptSheet TptSheet;
typedef struct _TptSheetTable TptSheetTable;

typedef enum {
  TPT_PAPER_A4,
  TPT_PAPER_LETTER,
} TptPaper;

/* %FALSE with %TPT_ERROR_USAGE for anything but "a4" and "letter". */
gboolean tpt_paper_parse (const char *text, TptPaper *paper, GError **error);

typedef enum {
  TPT_VOICE_PLAIN,
  TPT_VOICE_STRONG,
  TPT_VOICE_QUIET,
} TptVoice;

/* All texts are copied. */
TptSheet *tpt_sheet_new (TptPaper paper, const char *title);
void tpt_sheet_free (TptSheet *self);

/* At the foot of every page, beside its number. */
void tpt_sheet_set_footer (TptSheet *self, const char *words);
/* In a frame at the head of every page; %NULL for none. */
void tpt_sheet_set_mark (TptSheet *self, const char *words);

/**
 * tpt_sheet_begin:
 * @title: in large letters
 * @code: (nullable): in a frame to the right of the title
 * @below: (nullable): one line below it
 *
 * Begins a chapter on a page of its own. Everything else needs one.
 */
void tpt_sheet_begin (TptSheet *self, const char *title, const char *code, const char *below);

void tpt_sheet_add_heading (TptSheet *self, const char *words);
void tpt_sheet_add_text (TptSheet *self, const char *words, TptVoice voice);

/* @items: %NULL-terminated. With @boxes there is one to tick before each. */
void tpt_sheet_add_list (TptSheet *self, const char *const *items, gboolean boxes);

/* What is added between begin and end stands in two columns side by side,
 * where neither is higher than a part of the page; else one below the other. */
void tpt_sheet_begin_columns (TptSheet *self);
void tpt_sheet_next_column (TptSheet *self);
void tpt_sheet_end_columns (TptSheet *self);

/* Labels with a line to write on behind each, side by side in even widths.
 * @labels: %NULL-terminated, at most five. */
void tpt_sheet_add_blanks (TptSheet *self, const char *const *labels);

/* A label, and words with a box to tick before each. */
void tpt_sheet_add_choice (TptSheet *self, const char *label, const char *const *choices);

/* So many lines to write on over the whole width. */
void tpt_sheet_add_lines (TptSheet *self, guint n);

/* A frame with a title and sentences. */
void tpt_sheet_add_caution (TptSheet *self, const char *title, const char *const *sentences);

/**
 * TptSheetColumn:
 * @title: its head
 * @share: of the width, relative to the others
 */
typedef struct {
  const char *title;
  double share;
} TptSheetColumn;

/**
 * TptSheetCell: text, boxes to tick, or a blank.
 * @text: (nullable): cut after three lines
 * @detail: (nullable): below @text, smaller, cut after two lines
 * @boxes: (nullable): %NULL-terminated words, instead of text
 * @closed: nothing to fill in here: shaded
 */
typedef struct {
  const char *text;
  const char *detail;
  const char *const *boxes;
  gboolean closed;
} TptSheetCell;

/* (transfer none): a table at the end of what there is; its head is repeated
 * on every page it goes over. Valid until the sheet is laid out. */
TptSheetTable *tpt_sheet_add_table (TptSheet *self, const TptSheetColumn *columns, guint n_columns);

/* @cells: as many as there are columns; copied. */
void tpt_sheet_table_add_row (TptSheetTable *table, const TptSheetCell *cells);

/* Lays the sheet out if need be. */
guint tpt_sheet_count_pages (TptSheet *self);

/* Replaces the file at @path as a whole or not at all. */
gboolean tpt_sheet_write_pdf (TptSheet *self, const char *path, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptSheet, tpt_sheet_free)

G_END_DECLS
