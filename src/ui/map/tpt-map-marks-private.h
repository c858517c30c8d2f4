/* What the files of the layer of symbols share. */
#pragma once

#include "tpt-map-frame.h"
#include "tpt-map-marks.h"
#include "tpt-map-sprites.h"

G_BEGIN_DECLS

struct _TptMapMarks {
  ShumateLayer parent_instance;

  GPtrArray *marks;       /* (owned) (element-type TptMapMark) */
  TptMapSprites *sprites; /* (owned) */
  int selected;
  int cursor;
  GStrv chosen; /* (owned) (nullable): codes */
  double shrink; /* of discs, to a share of what marks are made with */
  GArray *hidden; /* (owned) (element-type graphene_rect_t) */
  graphene_rect_t box;
  gboolean has_box;
  gboolean cross;
};

TptMapFrame tpt_map_marks_get_frame (TptMapMarks *self);

/* Everything, on @snapshot of @width by @height. */
void tpt_map_marks_draw (TptMapMarks *self, GtkSnapshot *snapshot, double width, double height);

G_END_DECLS
