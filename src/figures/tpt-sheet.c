#include "config.h"

#include "tpt-sheet-private.h"

#include <glib/gi18n-lib.h>

#include "tpt-error.h"

static void
free_chapter (gpointer data)
{
  TptSheetChapter *chapter = data;

  g_free (chapter->title);
  g_free (chapter->code);
  g_free (chapter->below);
  g_ptr_array_unref (chapter->blocks);
  g_free (chapter);
}

void
tpt_sheet_block_free (TptSheetBlock *block)
{
  if (block->kind->free != NULL)
    block->kind->free (block);
  g_free (block);
}

static GPtrArray *
new_blocks (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_sheet_block_free);
}

gboolean
tpt_paper_parse (const char *text, TptPaper *paper, GError **error)
{
  if (g_ascii_strcasecmp (text, "a4") == 0)
    *paper = TPT_PAPER_A4;
  else if (g_ascii_strcasecmp (text, "letter") == 0)
    *paper = TPT_PAPER_LETTER;
  else
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("“%s” is no paper of a sheet; there are: a4, letter"), text);
      return FALSE;
    }
  return TRUE;
}

/* A4: ISO 216, 210 by 297 mm; Letter: ANSI/ASME Y14.1, 8.5 by 11 inches (both from memory). */
TptSheet *
tpt_sheet_new (TptPaper paper, const char *title)
{
  TptSheet *self = g_new0 (TptSheet, 1);

  self->title = g_strdup (title);
  self->width = paper == TPT_PAPER_A4 ? TPT_MM (210) : 8.5 * 96;
  self->height = paper == TPT_PAPER_A4 ? TPT_MM (297) : 11.0 * 96;
  self->chapters = g_ptr_array_new_with_free_func (free_chapter);
  self->pages = g_array_new (FALSE, FALSE, sizeof (TptSheetPage));
  self->pieces = g_array_new (FALSE, FALSE, sizeof (TptSheetPiece));
  return self;
}

void
tpt_sheet_free (TptSheet *self)
{
  g_free (self->title);
  g_free (self->footer);
  g_free (self->mark);
  g_ptr_array_unref (self->chapters);
  g_array_unref (self->pages);
  g_array_unref (self->pieces);
  g_free (self);
}

void
tpt_sheet_set_footer (TptSheet *self, const char *words)
{
  g_free (self->footer);
  self->footer = g_strdup (words);
}

void
tpt_sheet_set_mark (TptSheet *self, const char *words)
{
  g_free (self->mark);
  self->mark = g_strdup (words);
}

void
tpt_sheet_begin (TptSheet *self, const char *title, const char *code, const char *below)
{
  TptSheetChapter *chapter = g_new0 (TptSheetChapter, 1);

  chapter->title = g_strdup (title);
  chapter->code = g_strdup (code);
  chapter->below = g_strdup (below);
  chapter->blocks = new_blocks ();
  g_ptr_array_add (self->chapters, chapter);
}

/* A layout made before no longer fits. */
void
tpt_sheet_append (TptSheet *self, TptSheetBlock *block)
{
  TptSheetChapter *chapter = g_ptr_array_index (self->chapters, self->chapters->len - 1);
  TptSheetColumns *columns = (TptSheetColumns *) self->columns;

  g_array_set_size (self->pages, 0);
  g_array_set_size (self->pieces, 0);
  g_ptr_array_add (columns != NULL ? columns->sides[columns->second] : chapter->blocks, block);
}

void
tpt_sheet_begin_columns (TptSheet *self)
{
  TptSheetColumns *columns = g_new0 (TptSheetColumns, 1);

  columns->block.kind = &tpt_sheet_columns_kind;
  columns->block.gap = TPT_MM (2);
  columns->sides[0] = new_blocks ();
  columns->sides[1] = new_blocks ();
  tpt_sheet_append (self, &columns->block);
  self->columns = &columns->block;
}

void
tpt_sheet_next_column (TptSheet *self)
{
  ((TptSheetColumns *) self->columns)->second = TRUE;
}

void
tpt_sheet_end_columns (TptSheet *self)
{
  self->columns = NULL;
}
