/* All symbols of the map in one layer, with their names. */
#pragma once

#include <shumate/shumate.h>

#include "tpt-map-mark.h"

G_BEGIN_DECLS

#define TPT_TYPE_MAP_MARKS (tpt_map_marks_get_type ())
G_DECLARE_FINAL_TYPE (TptMapMarks, tpt_map_marks, TPT, MAP_MARKS, ShumateLayer)

ShumateLayer *tpt_map_marks_new (ShumateViewport *viewport);

/* Takes @marks (element-type TptMapMark). */
void tpt_map_marks_take (TptMapMarks *self, GPtrArray *marks);

guint tpt_map_marks_get_n_marks (TptMapMarks *self);
/* (transfer none). */
const TptMapMark *tpt_map_marks_get (TptMapMarks *self, guint position);

/* The mark with @code, or -1. */
int tpt_map_marks_find (TptMapMarks *self, const char *code);

/* The mark whose middle is nearest to a pixel of the layer and within
 * @distance, or -1. */
int tpt_map_marks_find_near (TptMapMarks *self, double px, double py, double distance);

/* Where the mark is, in pixels of the layer. */
void tpt_map_marks_get_pixel (TptMapMarks *self, guint position, double *px, double *py);

/* The one with a ring, and the one with the keyboard's frame; -1 for none. */
void tpt_map_marks_set_selected (TptMapMarks *self, int position);
void tpt_map_marks_set_cursor (TptMapMarks *self, int position);
int tpt_map_marks_get_cursor (TptMapMarks *self);

/* Codes of the marks that are chosen together, the others receding; @codes (nullable) is
 * copied. Kept when there are other marks. */
void tpt_map_marks_set_chosen (TptMapMarks *self, const char *const *codes);
guint tpt_map_marks_get_n_chosen (TptMapMarks *self);
gboolean tpt_map_marks_is_chosen (TptMapMarks *self, guint position);

/* The largest disc, in pixels, when it is to be less than marks are made with: for a
 * small map. */
void tpt_map_marks_set_largest (TptMapMarks *self, double diameter);

/* As it is drawn, in pixels. */
double tpt_map_marks_get_diameter (TptMapMarks *self, guint position);

/* (element-type graphene_rect_t): copied; where no name is to go, as something lies on the map there. */
void tpt_map_marks_set_hidden (TptMapMarks *self, GArray *places);

/* A box that is being drawn over the layer, in its pixels; %NULL for none. */
void tpt_map_marks_set_box (TptMapMarks *self, const graphene_rect_t *box);

/* (transfer full) (element-type utf8): codes of the marks within @box. */
GStrv tpt_map_marks_find_within (TptMapMarks *self, const graphene_rect_t *box);

/* A cross in the middle of the layer, for picking a place with the keyboard. */
void tpt_map_marks_set_cross (TptMapMarks *self, gboolean cross);

/* The box in the square of the world around every mark. FALSE without any. */
gboolean tpt_map_marks_get_box (TptMapMarks *self, double *left, double *top, double *right, double *bottom);

G_END_DECLS
