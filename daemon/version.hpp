#pragma once
namespace rindwatch {
const char* Version();
}
