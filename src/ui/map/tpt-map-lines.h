/* Trails, roads, rivers, water and boundaries, with their names. */
#pragma once

#include <shumate/shumate.h>

#include "tpt-track.h"

G_BEGIN_DECLS

#define TPT_TYPE_MAP_LINES (tpt_map_lines_get_type ())
G_DECLARE_FINAL_TYPE (TptMapLines, tpt_map_lines, TPT, MAP_LINES, ShumateLayer)

ShumateLayer *tpt_map_lines_new (ShumateViewport *viewport);

/* @tracks (nullable) (element-type TptTrack): only read, and only now. */
void tpt_map_lines_set_tracks (TptMapLines *self, GPtrArray *tracks);

/* @marks (nullable) (element-type TptMapMark): what names keep clear of; only
 * read, and only now. */
void tpt_map_lines_set_marks (TptMapLines *self, GPtrArray *marks);

guint tpt_map_lines_get_n_tracks (TptMapLines *self);

/* The box in the square of the world around every track. FALSE without any. */
gboolean tpt_map_lines_get_box (TptMapLines *self, double *left, double *top, double *right, double *bottom);

G_END_DECLS
