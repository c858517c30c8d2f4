/* One map, or two side by side that pan and zoom together. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-map-view.h"

G_BEGIN_DECLS

#define TPT_TYPE_MAP_PAIR (tpt_map_pair_get_type ())
G_DECLARE_FINAL_TYPE (TptMapPair, tpt_map_pair, TPT, MAP_PAIR, GtkWidget)

GtkWidget *tpt_map_pair_new (void);

/* (transfer none): @which 0 or 1; the second is there even while it is hidden. */
TptMapView *tpt_map_pair_get_map (TptMapPair *self, guint which);

/* What each shows, and so that there are two; @first %NULL leaves one. */
void tpt_map_pair_set_titles (TptMapPair *self, const char *first, const char *second);

/* For both. */
void tpt_map_pair_set_measure (TptMapPair *self, TptMapMeasure measure);
void tpt_map_pair_set_tracks (TptMapPair *self, GPtrArray *tracks);
void tpt_map_pair_set_moment (TptMapPair *self, TptZone *zone, TptInstant on);
void tpt_map_pair_set_selected (TptMapPair *self, const char *code);
void tpt_map_pair_set_chosen (TptMapPair *self, const char *const *codes);

/* (transfer full): the numbers of a map's discs, for a table: @places are #TptPlaceItem. */
TptFigure *tpt_map_pair_make_figure (TptMapMeasure measure, GListModel *places);

G_END_DECLS
