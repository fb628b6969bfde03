/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * @file resinwright.h
 * @brief All rooms at once.
 */
#ifndef RESINWRIGHT_H
#define RESINWRIGHT_H

#include <resinwright/air.h>
#include <resinwright/base.h>
#include <resinwright/cloth.h>
#include <resinwright/cure.h>
#include <resinwright/data.h>
#include <resinwright/fit.h>
#include <resinwright/heat.h>
#include <resinwright/history.h>
#include <resinwright/hull.h>
#include <resinwright/laminate.h>
#include <resinwright/log.h>
#include <resinwright/num.h>
#include <resinwright/panel.h>
#include <resinwright/plan.h>
#include <resinwright/text.h>
#include <resinwright/units.h>

#endif
