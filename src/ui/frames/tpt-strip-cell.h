/* A frame of the strip: a small picture with its number. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-frame-item.h"

G_BEGIN_DECLS

#define TPT_TYPE_STRIP_CELL (tpt_strip_cell_get_type ())
G_DECLARE_FINAL_TYPE (TptStripCell, tpt_strip_cell, TPT, STRIP_CELL, GtkButton)

TptStripCell *tpt_strip_cell_new (void);

/* @row: copied as far as needed. @place: of @n frames, from 0. @chosen: it is the
 * one shown large. @lift: as in tpt-light.h. */
void tpt_strip_cell_show (TptStripCell *self, const TptFrameRow *row, int place, int n, gboolean chosen, double lift);

int tpt_strip_cell_get_place (TptStripCell *self);

/* Lets go of its picture and of waiting for it. */
void tpt_strip_cell_clear (TptStripCell *self);

G_END_DECLS
