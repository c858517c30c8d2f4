/* Invented pictures of a place in the forest, for the demo. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define TPT_SCENE_WIDTH 240
#define TPT_SCENE_HEIGHT 160

/**
 * TptScene: one picture.
 * @place: which place: its trees and ground
 * @trigger: which firing: where the animal stands, how the leaves sway
 * @night: infra-red grey instead of daylight
 * @animal: size class 0 (none) to 4
 * @step: position in its burst
 */
typedef struct {
  guint64 place;
  guint64 trigger;
  gboolean night;
  int animal;
  int step;
} TptScene;

/* (transfer full): 3 bytes red, green, blue per pixel, rows from the top. The
 * same scene gives the same bytes. */
guint8 *tpt_scene_render (const TptScene *scene);

G_END_DECLS
