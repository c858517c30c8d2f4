/* Pages onto paper: their heads and feet, and the file. */
#include "config.h"

#include "tpt-figure-private.h"
#include "tpt-sheet-private.h"

#include <cairo-pdf.h>
#include <glib/gi18n-lib.h>

#include "tpt-error.h"

#define POINTS (72.0 / 96.0)
#define TITLE_LINES 2

/* Words in a frame that ends at @right; returns where it begins. */
static double
draw_framed (TptCanvas *canvas, const char *words, double right, double y, double widest, gboolean draw, double *height)
{
  TptText text = { TPT_COLOR_INK, .bold = TRUE, .width = widest };
  double pad = TPT_MM (1.5), width;

  tpt_canvas_measure (canvas, words, &text, &width, height);
  *height += 2 * pad / 2;
  width += 2 * pad;
  if (!draw)
    return right - width;
  tpt_canvas_set (canvas, TPT_COLOR_INK, 1);
  cairo_set_line_width (canvas->cr, 1);
  cairo_rectangle (canvas->cr, right - width + 0.5, y + 0.5, width - 1, *height - 1);
  cairo_stroke (canvas->cr);
  tpt_canvas_write (canvas, words, right - width + pad, y + pad / 2, &text);
  return right - width;
}

static double
draw_mark (TptSheet *self, TptCanvas *canvas, double y, gboolean draw)
{
  double height;

  if (self->mark == NULL)
    return y;
  draw_framed (canvas, self->mark, self->width - TPT_SHEET_MARGIN, y, self->width - 3 * TPT_SHEET_MARGIN, draw, &height);
  return y + height + TPT_MM (2);
}

/* A page that goes on says of what, in smaller letters. */
double
tpt_sheet_head (TptSheet *self, TptCanvas *canvas, guint page, gboolean draw)
{
  const TptSheetPage *at = &g_array_index (self->pages, TptSheetPage, page);
  double left = TPT_SHEET_MARGIN, right = self->width - TPT_SHEET_MARGIN, frame = 0, height;
  double y = draw_mark (self, canvas, TPT_SHEET_MARGIN, draw);
  g_autofree char *going_on = at->continued ? g_strdup_printf (_("%s, continued"), at->chapter->title) : NULL;
  const char *title = going_on != NULL ? going_on : at->chapter->title;
  TptText text = { TPT_COLOR_INK, .size = at->continued ? 1.3 : 2, .bold = TRUE, .wrap = TRUE, .width = right - left };
  TptText below = { TPT_COLOR_QUIET, .width = right - left };

  if (at->chapter->code != NULL)
    text.width = draw_framed (canvas, at->chapter->code, right, y, (right - left) / 3, draw, &frame) - left - TPT_MM (4);
  height = tpt_sheet_text_height (canvas, title, &text, TITLE_LINES);
  if (draw)
    tpt_sheet_text_draw (canvas, title, &text, TITLE_LINES, left, y);
  y += MAX (height, frame);
  if (at->chapter->below == NULL || at->continued)
    return y + TPT_MM (3);
  if (draw)
    tpt_sheet_text_draw (canvas, at->chapter->below, &below, 1, left, y);
  return y + tpt_sheet_text_height (canvas, at->chapter->below, &below, 1) + TPT_MM (3);
}

static void
draw_foot (TptSheet *self, TptCanvas *canvas, guint page)
{
  double left = TPT_SHEET_MARGIN, right = self->width - TPT_SHEET_MARGIN, y = self->height - TPT_SHEET_MARGIN;
  TptText number = { TPT_COLOR_QUIET, .size = 0.9, .across = 1, .down = 1 };
  TptText words = { TPT_COLOR_QUIET, .size = 0.9, .down = 1, .width = (right - left) * 0.8 };
  /* Translators: a page's number, and how many there are. */
  g_autofree char *text = g_strdup_printf (_("page %1$u of %2$u"), page + 1, self->pages->len);

  tpt_canvas_set (canvas, TPT_COLOR_QUIET, 1);
  tpt_canvas_rule (canvas, left, y - TPT_MM (5), right, y - TPT_MM (5), 0.6);
  tpt_canvas_write (canvas, text, right, y, &number);
  if (self->footer != NULL)
    tpt_canvas_write (canvas, self->footer, left, y, &words);
}

void
tpt_sheet_draw_page (TptSheet *self, TptCanvas *canvas, guint page)
{
  tpt_sheet_head (self, canvas, page, TRUE);
  for (guint i = 0; i < self->pieces->len; i++)
    {
      const TptSheetPiece *piece = &g_array_index (self->pieces, TptSheetPiece, i);

      if (piece->page == page)
        piece->block->kind->draw (piece->block, canvas, &piece->area, piece->first, piece->n_rows);
    }
  draw_foot (self, canvas, page);
}

static cairo_status_t
append_cb (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

guint
tpt_sheet_count_pages (TptSheet *self)
{
  if (self->pages->len == 0)
    {
      cairo_surface_t *surface = cairo_pdf_surface_create (NULL, self->width * POINTS, self->height * POINTS);
      cairo_t *cr = cairo_create (surface);
      TptCanvas canvas;

      cairo_scale (cr, POINTS, POINTS);
      tpt_sheet_canvas_begin (&canvas, cr);
      tpt_sheet_lay_out (self, &canvas);
      tpt_canvas_end (&canvas);
      cairo_destroy (cr);
      cairo_surface_destroy (surface);
    }
  return self->pages->len;
}

static void
draw_pages (TptSheet *self, cairo_surface_t *surface)
{
  cairo_t *cr = cairo_create (surface);
  TptCanvas canvas;

  cairo_scale (cr, POINTS, POINTS);
  tpt_sheet_canvas_begin (&canvas, cr);
  for (guint page = 0; page < self->pages->len; page++)
    {
      tpt_sheet_draw_page (self, &canvas, page);
      cairo_show_page (cr);
    }
  tpt_canvas_end (&canvas);
  cairo_destroy (cr);
}

gboolean
tpt_sheet_write_pdf (TptSheet *self, const char *path, GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  cairo_surface_t *surface;
  gboolean good;

  tpt_sheet_count_pages (self);
  surface = cairo_pdf_surface_create_for_stream (append_cb, bytes, self->width * POINTS, self->height * POINTS);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, self->title);
  tpt_pdf_fix_date (surface);
  draw_pages (self, surface);
  cairo_surface_finish (surface);
  good = cairo_surface_status (surface) == CAIRO_STATUS_SUCCESS;
  cairo_surface_destroy (surface);
  if (!good)
    {
      g_set_error_literal (error, TPT_ERROR, TPT_ERROR_IO, _("There was not enough memory to draw the sheet."));
      return FALSE;
    }
  tpt_pdf_blank_date (bytes);
  return tpt_file_replace (path, bytes->data, bytes->len, error);
}
